import { z } from "zod";
import type { AnodeWish } from "@/lib/services";
import { ANODE_WAYS } from "@/lib/stock";

const millimetres = z.coerce.number().min(0).max(20_000);

/** A wish as an address carries it, in plain millimetres. */
export const WishSchema = z.object({
  tankId: z.uuid(),
  itemId: z.uuid(),
  way: z.enum(ANODE_WAYS),
  heightMm: millimetres,
  offsetMm: millimetres,
  cornerMm: millimetres,
  gapMm: millimetres,
  overhangMm: millimetres,
  count: z.coerce.number().int().min(1).max(99),
});

/** The address under which a wish is planned. */
export const wishHref = (wish: AnodeWish): string =>
  `/stock/cutting?${new URLSearchParams(
    Object.entries(wish).map(([name, value]): [string, string] => [name, String(value)]),
  ).toString()}`;

/** The wish of an address; null where it carries none that makes sense. */
export function wishFrom(
  query: Readonly<Record<string, string | string[] | undefined>>,
): AnodeWish | null {
  const read = WishSchema.safeParse(query);
  return read.success ? read.data : null;
}
