import type { MeanOfPlays, SimulatedResource } from "@/lib/scheduling";
import type { BoardNames } from "@/lib/services";

export const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** A share with the interval that it lies in nineteen times in twenty. */
export const percentBand = ({ mean, low, high }: MeanOfPlays): string =>
  Math.round(100 * low) === Math.round(100 * high)
    ? percent(mean)
    : `${percent(mean)} (${Math.round(100 * Math.max(0, low))} to ${percent(Math.min(1, high))})`;

/** What was in use or waited for, by name. */
export function resourceName({ kind, id }: SimulatedResource, names: BoardNames): string {
  switch (kind) {
    case "TANK":
      return names.tanks[id] ?? names.tanks[id.replace(/′+$/, "")] ?? "the new tank";
    case "SUPPLY":
      return names.supplies[id] ?? "the new supply";
    case "HANDS":
      return "hands at the bench";
    case "OPENINGS":
      return "somebody to be there at all";
  }
}

/** What everything waits for most. */
export function bottleneckWords(of: SimulatedResource | null, names: BoardNames): string {
  if (!of) return "Nothing waited for anything beyond its booking.";
  const share = percent(of.shareOfDelay);
  return `What loads wait for most beyond their booking is ${resourceName(of, names)}: ${share} of all waiting, ${of.waitedHours.toFixed(1)} load-hours.`;
}

/**
 * What something more changes, or that nothing can be told from chance.
 * @param more the word for a rise, such as "more"
 */
export function differenceWords(
  difference: MeanOfPlays,
  say: (value: number) => string,
  words: { readonly more: string; readonly less: string },
): string {
  const { mean, low, high } = difference;
  if (low <= 0 && high >= 0) return "no difference that can be told from chance";
  const band = [low, high].map(Math.abs).sort((a, b) => a - b);
  return `${say(Math.abs(mean))} ${mean > 0 ? words.more : words.less} (${say(band[0] ?? 0)} to ${say(band[1] ?? 0)})`;
}
