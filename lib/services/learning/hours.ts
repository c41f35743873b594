import { type Db, listPastDips, type PastDipRow } from "@/lib/data";
import {
  episodesOf,
  type Forecast,
  type HoursObservation,
  learnedRange,
  type LearnedHours,
  learnHours,
  type PastDip,
  spreadOf,
  timeNeeded,
} from "@/lib/learning";
import { type HoursLearned, type HoursRange, learningClass, stretched } from "@/lib/treatment";

const HOUR_MS = 3_600_000;
/** More dips than this tell of a shop that has changed since, and take longer to work out. */
const NEWEST_DIPS = 400;
/** A load that was out again within a minute was no treatment. */
const LEAST_HOURS = 1 / 60;

/** What the shop's runs say of its hours, and how its forecasts held. */
export type HoursHistory = {
  readonly learned: LearnedHours;
  readonly forecasts: readonly Forecast[];
};

/** Key of the class in which a part's hours are learned. */
export function hoursClassKey(part: Parameters<typeof learningClass>[0]): string {
  const { shape, condition } = learningClass(part);
  return `${shape} ${condition}`;
}

/**
 * Learns the hours from the newest dips that came out.
 *
 * Compared are hours, not ampere-hours: paint goes by the root of the current, and above saturation more current does
 * nothing, so that charge is no measure of either. What a current other than the planned one did is part of the
 * scatter that is learned.
 */
export async function hoursHistory(db: Db): Promise<HoursHistory> {
  const episodes = episodesByEnd(await listPastDips(db, NEWEST_DIPS)).flatMap(
    (episode) => asEpisode(episode) ?? [],
  );
  return {
    learned: learnHours(episodes.map(({ observation }) => observation)),
    forecasts: episodes.map(({ forecast }) => forecast),
  };
}

/** What the runs say of the hours of parts like this one; undefined while the shop has none. */
export function hoursFor(
  learned: LearnedHours,
  part: Parameters<typeof learningClass>[0],
): HoursLearned | undefined {
  if (learned.runs === 0) return undefined;
  const own = learned.of(hoursClassKey(part));
  return { runs: own.runs, pooled: own.pooled, range: (model) => learnedRange(own, model) };
}

type Dip = PastDip & { readonly row: PastDipRow; readonly model: HoursRange };

function episodesByEnd(rows: readonly PastDipRow[]): readonly (readonly Dip[])[] {
  const byEnd = new Map<string, Dip[]>();
  for (const row of rows) {
    const hours = (row.pulledAt.getTime() - row.loadedAt.getTime()) / HOUR_MS;
    if (hours < LEAST_HOURS) continue;
    // As booking has it: one end of one piece, longer where pieces share the bath.
    const model = stretched(row.modelHours, row.sharing / row.dipCount);
    const dip = { row, model, ratio: hours / model.p50, outcome: row.result, timing: row.timing };
    const key = `${row.partId} ${row.end}`;
    byEnd.set(key, [...(byEnd.get(key) ?? []), dip]);
  }
  return [...byEnd.values()].flatMap((dips) => episodesOf(dips));
}

/** The plan under which a part came out, or last went in, is the one its hours are compared with. */
function asEpisode(
  episode: readonly Dip[],
): { readonly observation: HoursObservation; readonly forecast: Forecast } | null {
  const needed = timeNeeded(episode);
  const last = episode.at(-1);
  if (!needed || !last) return null;
  const { row } = last;
  return {
    observation: { classKey: hoursClassKey(row), needed, spread: spreadOf(row.modelHours) },
    forecast: { foretold: stretched(row.hours, 1 / row.modelHours.p50), needed },
  };
}
