import { z } from "zod";
import { cureAt, type EpoxySheet, mixEpoxy, patchMass, potLifeAt, volumeOf } from "@/lib/stock";
import type { Worked } from "@/lib/units";

/** What is to be mixed, as an address carries it. */
export const MixSchema = z.object({
  by: z.enum(["MASS", "VOLUME"], { error: "Choose how you measure it out." }),
  /** g of both parts together; 0 where it follows from a patch */
  amountG: z.coerce.number().min(0).max(100_000),
  areaCm2: z.coerce.number().min(0).max(100_000),
  thicknessMm: z.coerce.number().min(0).max(100),
  temperatureC: z.coerce.number().min(-20).max(60),
});
export type Mix = z.output<typeof MixSchema>;

export const mixHref = (itemId: string, mix: Mix): string =>
  `/stock/${itemId}/epoxy?${new URLSearchParams(
    Object.entries(mix).map(([name, value]): [string, string] => [name, String(value)]),
  ).toString()}#mix`;

/** The figures of a mix in the order of the work, and why it would not set; null where the sheet has no such ratio. */
export function mixFigures(
  sheet: EpoxySheet,
  mix: Mix,
): { readonly figures: readonly Worked[]; readonly tooCold: boolean } | null {
  const ratio = mix.by === "MASS" ? sheet.hardenerPer100ByMass : sheet.hardenerPer100ByVolume;
  const patch = patchOf(sheet, mix);
  const totalG = patch?.value ?? mix.amountG;
  if (ratio === null || !(totalG > 0)) return null;
  const volume = mix.by === "VOLUME" ? volumeOf(sheet, totalG) : null;
  const { resin, hardener } = mixEpoxy(sheet, mix.by, volume?.value ?? totalG);
  const tooCold = mix.temperatureC < sheet.leastCureC;
  return {
    tooCold,
    figures: [
      ...(patch ? [patch] : []),
      ...(volume ? [volume] : []),
      resin,
      hardener,
      potLifeAt(sheet, mix.temperatureC),
      ...(tooCold ? [] : [cureAt(sheet, mix.temperatureC)]),
    ],
  };
}

/** Null where an amount was entered, or no patch. */
function patchOf(sheet: EpoxySheet, { amountG, areaCm2, thicknessMm }: Mix): Worked | null {
  if (amountG > 0) return null;
  return areaCm2 > 0 && thicknessMm > 0 ? patchMass(sheet, areaCm2 / 10_000, thicknessMm) : null;
}
