/** How a part came out of one dip. */
export type DipOutcome = "CLEAN" | "PARTLY" | "AGAIN" | "DAMAGED";
/** What the bench said of the moment of the pull; null: not sure. */
export type PullTiming = "JUST_CLEAN" | "LONG_CLEAN" | null;

/** One dip of one end of a part. */
export type PastDip = {
  /** hours under current over the hours that the model gave for it, above 0 */
  readonly ratio: number;
  readonly outcome: DipOutcome;
  readonly timing: PullTiming;
};

/**
 * What is known of the time a part needed, over the time the model gave: it lies from `least` to `most`. Equal when
 * it is known outright; `least` 0 when the part was pulled late; `most` Infinity when it still was not clean.
 */
export type TimeNeeded = { readonly least: number; readonly most: number };

/**
 * Where nobody can say, the part is taken to have become clean no earlier than in the second half of its time in the
 * bath, or of the model's time where it was left in longer than that (overnight, say). Assumption. With no lower bound
 * at all a shop that is never sure, and pulls its parts just as they are clean, would learn ever shorter hours.
 */
const NOT_SURE_FROM = 0.5;

/**
 * Parts one end's dips, in the order in which they were made, into episodes: each ends when the part came out for good.
 * A part that was taken back in later begins another.
 *
 * @example episodesOf([again, clean, clean]).length // 2
 */
export function episodesOf<Dip extends PastDip>(dips: readonly Dip[]): readonly (readonly Dip[])[] {
  const episodes: Dip[][] = [];
  let open: Dip[] = [];
  for (const dip of dips) {
    open.push(dip);
    if (dip.outcome === "AGAIN") continue;
    episodes.push(open);
    open = [];
  }
  return open.length > 0 ? [...episodes, open] : episodes;
}

/**
 * What one episode says of the time the part needed.
 *
 * Times of a part that went in again add up, each over the hours of the plan it was under: a share of the work done.
 * It was not clean before the last of them, so their sum is a lower bound however the last one came out. A damaged
 * part tells nothing more.
 *
 * @returns null where nothing is known
 * @example timeNeeded([{ ratio: 1.2, outcome: "CLEAN", timing: "JUST_CLEAN" }]) // { least: 1.2, most: 1.2 }
 * @example timeNeeded([{ ratio: 1.2, outcome: "AGAIN", timing: null }]) // { least: 1.2, most: Infinity }
 */
export function timeNeeded(episode: readonly PastDip[]): TimeNeeded | null {
  const before = episode
    .filter(({ outcome }) => outcome === "AGAIN")
    .reduce((sum, { ratio }) => sum + ratio, 0);
  const last = episode.at(-1);
  if (last?.outcome === "CLEAN" || last?.outcome === "PARTLY") {
    return whenClean(before, before + last.ratio, last.timing);
  }
  return before > 0 ? { least: before, most: Number.POSITIVE_INFINITY } : null;
}

function whenClean(before: number, total: number, timing: PullTiming): TimeNeeded {
  switch (timing) {
    case "JUST_CLEAN":
      return { least: total, most: total };
    case "LONG_CLEAN":
      return { least: before, most: total };
    case null:
      return { least: Math.max(before, NOT_SURE_FROM * Math.min(1, total)), most: total };
  }
}
