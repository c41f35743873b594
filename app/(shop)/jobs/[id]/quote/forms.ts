/** What the forms of the quote screen hold. */
import { z } from "zod";
import { input } from "@/lib/server";
import { LONGEST_OPTION_NAME, type OptionWish, usualName } from "@/lib/services";

/** Options that can be typed side by side, by the number in their fields' names. */
export const OPTION_NUMBERS = ["0", "1", "2", "3"] as const;
type OptionNumber = (typeof OPTION_NUMBERS)[number];

const GOAL = z.enum(["AS_PLANNED", "RUST_ONLY", "STRIP_TO_METAL"]).default("AS_PLANNED");
const optionName = input.optionalText(LONGEST_OPTION_NAME);
const discount = input.optionalNumberFrom(0, 100, "%");

type OptionFields = {
  readonly [Field in `offer${OptionNumber}` | `rush${OptionNumber}`]: typeof input.ticked;
} & {
  readonly [Field in `name${OptionNumber}`]: typeof optionName;
} & { readonly [Field in `goal${OptionNumber}`]: typeof GOAL } & {
  readonly [Field in `discount${OptionNumber}`]: typeof discount;
};

const OPTION_FIELDS = Object.fromEntries(
  OPTION_NUMBERS.flatMap((number) => [
    [`offer${number}`, input.ticked],
    [`name${number}`, optionName],
    [`goal${number}`, GOAL],
    [`rush${number}`, input.ticked],
    [`discount${number}`, discount],
  ]),
) as OptionFields;

export const DraftForm = z
  .object({
    jobId: input.id,
    /** the button that prices what usually makes sense, whatever is ticked */
    usual: input.ticked,
    ...OPTION_FIELDS,
    taxCode: input.optionalText(100),
    depositPercent: input.numberFrom(0, 100, "%"),
    validUntil: input.day,
    messageToCustomer: input.optionalText(2000),
    terms: input.optionalText(5000),
  })
  .superRefine((typed, context) => {
    if (typed.usual) return;
    const ticked = OPTION_NUMBERS.filter((number) => typed[`offer${number}`]);
    const issue = (field: string, message: string) => {
      context.addIssue({ code: "custom", path: [field], message });
    };
    if (ticked.length === 0) issue("offer0", "Tick at least one option to offer.");
    const names = new Set<string>();
    for (const number of ticked) {
      const name = nameOf(typed, number).toLowerCase();
      if (names.has(name)) issue(`name${number}`, "Another option has this name: change one.");
      names.add(name);
    }
  });
type Draft = z.output<typeof DraftForm>;

/** The ticked options as the shop asks for them. */
export function wishesOf(typed: Draft): readonly OptionWish[] {
  return OPTION_NUMBERS.filter((number) => typed[`offer${number}`]).map((number) => ({
    name: nameOf(typed, number),
    goal: goalOf(typed, number),
    rush: typed[`rush${number}`],
    discountPercent: typed[`discount${number}`] ?? undefined,
  }));
}

type OptionsTyped = Pick<Draft, Exclude<keyof OptionFields, `offer${OptionNumber}`>>;

function goalOf(typed: OptionsTyped, number: OptionNumber): OptionWish["goal"] {
  const goal = typed[`goal${number}`];
  return goal === "AS_PLANNED" ? null : goal;
}

/** A name is needed to choose by; where none is typed, what it is says it. */
function nameOf(typed: OptionsTyped, number: OptionNumber): string {
  const wish = { goal: goalOf(typed, number), rush: typed[`rush${number}`] };
  return typed[`name${number}`] || usualName(wish);
}

export const LinkForm = z.object({
  jobId: input.id,
  quoteId: input.id,
  act: z.enum(["send", "renew"]),
  /** whether the link goes to the customer by mail too */
  mailIt: input.ticked,
});

export const QuoteForm = z.object({ jobId: input.id, quoteId: input.id });
