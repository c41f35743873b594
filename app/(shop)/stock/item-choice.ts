import { z } from "zod";
import { STOCK_UNITS, type StockUnit } from "@/lib/stock";

/** An item to choose in a list, with what it is counted in: what is typed beside it is read by that. */
export type ItemChoice = { readonly itemId: string; readonly unit: StockUnit };

/** As the value of an option. @example itemChoiceText({ itemId, unit: "GRAM" }) // "GRAM 6f9c…" */
export const itemChoiceText = ({ itemId, unit }: ItemChoice): string => `${unit} ${itemId}`;

const OUT_OF_DATE = "This page is out of date. Open it again.";

/** The item chosen, or null for none. */
export const optionalItemChoice = z
  .string()
  .default("")
  .transform((chosen, context): ItemChoice | null => {
    if (chosen === "") return null;
    const [unit, itemId = ""] = chosen.split(" ");
    const known = STOCK_UNITS.find((each) => each === unit);
    if (known && z.uuid().safeParse(itemId).success) return { itemId, unit: known };
    context.addIssue({ code: "custom", message: OUT_OF_DATE });
    return z.NEVER;
  });
