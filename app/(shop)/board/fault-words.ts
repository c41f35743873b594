/** What a move breaks, in words. Pure; the one place where the rules' faults are said. */
import type { Fault } from "@/lib/scheduling";
import type { TimeBoard } from "@/lib/services";
import { type Clock, lengthWords } from "./clock";
import { capital, HOLD_WORD, loadName } from "./words";

const HOUR_MS = 3_600_000;

export type FaultWords = {
  readonly words: string;
  /** whether the shop's service refuses it; otherwise it is to be minded, and may be done */
  readonly refused: boolean;
};

/** Names what stands on the board by its id. */
export type Namer = (id: string) => string;

export function namerOf(board: TimeBoard): Namer {
  const names = new Map<string, string>();
  for (const lane of board.lanes) {
    for (const run of lane.runs) names.set(run.id, `run ${run.number} (${loadName(run.parts)})`);
    for (const hold of lane.holds) names.set(hold.id, `the ${HOLD_WORD[hold.kind]}`);
  }
  return (id) => names.get(id) ?? "another load";
}

export function faultWords(fault: Fault, name: Namer, clock: Clock): FaultWords {
  switch (fault.kind) {
    case "TANK":
      return refused(
        `${capital(name(fault.withId))} is in the tank from ${clock.when(fault.fromMs)} to ${clock.when(fault.untilMs)}.`,
      );
    case "SUPPLY":
      return refused(
        `From ${clock.when(fault.fromMs)} the supply would have to give ${amperes(fault.amperes)}, and gives ${amperes(fault.ratingA)} without end${beside(fault.withIds, name)}.`,
      );
    case "SHUT":
      return refused(
        fault.work === "load"
          ? `Nobody is there to load at ${clock.when(fault.fromMs)}.`
          : `Nobody is there to pull and finish at ${clock.when(fault.fromMs)}.`,
      );
    case "HANDS":
      return minded(
        `At ${clock.when(fault.fromMs)} everybody has their hands full${beside(fault.withIds, name)}: the ${fault.work} would wait.`,
      );
    case "TOO_EARLY":
      return refused(`That time is past.`);
    case "ORDER":
      return refused(
        `The other end of a part is in until ${clock.when(fault.untilMs)}, and goes in first.`,
      );
    case "TOO_SHORT":
      return refused(
        `That is ${lengthWords(fault.hours * HOUR_MS)} too short for what its plans ask.`,
      );
    case "HORIZON":
      return minded(`That is further ahead than the board looks.`);
  }
}

/** @returns nothing where the promise is kept */
export function promiseWords(daysLate: number): readonly FaultWords[] {
  if (daysLate === 0) return [];
  const days = daysLate === 1 ? "day" : "days";
  return [minded(`It would be off the bench ${daysLate} ${days} after the promised one.`)];
}

const refused = (words: string): FaultWords => ({ words, refused: true });
const minded = (words: string): FaultWords => ({ words, refused: false });

const beside = (ids: readonly string[], name: Namer): string =>
  ids.length === 0 ? "" : `, beside ${ids.map(name).join(" and ")}`;

const amperes = (value: number): string => `${Number(value.toFixed(1))} A`;
