import { type Cause, CAUSES } from "./causes";
import { type Diagnosis, diagnose } from "./diagnose";
import { type Records, type SimulatedRun, simulateRun } from "./simulate";
import { simulateAnswer } from "./simulate-answers";
import type { SimulatedFault } from "./simulate-faults";

/*
 * The diagnosis against simulated tanks of every supply and many sizes: one fault of random severity and onset, 4 to 10
 * readings, 5 % noise. A fault counts when it moves the noise-free current at the last reading by 20 % or more; leads the
 * wrong way round always count. Each of the twelve faults comes equally often; "right" is the one cause, alone, that was
 * put in: no two are taken together, however alike they look on the meter.
 */

export const FAULTS = CAUSES.filter(
  (cause): cause is Exclude<SimulatedFault, "AS_IT_SHOULD"> =>
    cause !== "AS_IT_SHOULD" && cause !== "SOMETHING_ELSE",
);
/** Four earlier runs, the level read at most readings, and the bath measured before the run. */
export const WELL_KEPT: Records = { earlierRuns: 4, levelRead: 0.7, conductivityMeasured: 1 };
/** The level read half of the time, and every other bath measured. */
export const USUAL: Records = { earlierRuns: 4, levelRead: 0.5, conductivityMeasured: 0.5 };
/** A new tank, and nobody reads more than volts and amps. */
export const BARE: Records = { earlierRuns: 0, levelRead: 0, conductivityMeasured: 0 };

export type Tried = { readonly run: SimulatedRun; readonly seed: number; readonly told: Diagnosis };

const counts = ({ fault, shift }: SimulatedRun): boolean =>
  fault === "REVERSED" || shift <= Math.log(0.8) || shift >= Math.log(1.2);

function tell(run: SimulatedRun, answers: Record<string, string> = {}): Diagnosis {
  const told = diagnose(run.readings, run.expected, answers);
  if (!told) throw new Error("a simulated run has readings");
  return told;
}

/** So many runs of each fault that count, from consecutive seeds. */
export function tryFaults(
  faults: readonly SimulatedFault[],
  each: number,
  records: Records,
): Tried[] {
  return faults.flatMap((fault, kind) => {
    const tried: Tried[] = [];
    for (let seed = kind * 100_000; tried.length < each; seed += 1) {
      const run = simulateRun(seed, fault, records);
      if (fault === "AS_IT_SHOULD" || counts(run)) tried.push({ run, seed, told: tell(run) });
    }
    return tried;
  });
}

export const first = ({ told }: Tried): Cause | undefined => told.ranked[0]?.cause;
/** Probability of what is ranked first. */
export const saidOf = ({ told }: Tried): number => told.ranked[0]?.probability ?? 0;
export const isRight = (tried: Tried): boolean => first(tried) === tried.run.fault;
export const share = (all: readonly Tried[], which: (tried: Tried) => boolean): number =>
  all.filter(which).length / all.length;
export const likely = ({ told }: Tried): boolean => told.verdict === "likely";

/** After the one check that the diagnosis asks for, made by somebody who errs once in ten. */
export function afterItsCheck(tried: Tried): Tried {
  const { next } = tried.told;
  if (!next) return tried;
  const codes = next.prospects.map(({ code }) => code);
  const answer = simulateAnswer(tried.seed, tried.run.fault, next.code, codes);
  return { ...tried, told: tell(tried.run, { [next.code]: answer }) };
}
