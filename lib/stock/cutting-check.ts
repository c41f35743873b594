import type { CuttingPlan, CuttingProblem } from "./cutting";

/** Lengths that differ by less are the same, mm. */
const SAME_MM = 1e-6;

/**
 * What is wrong with a plan for a problem; empty where it can be sawn as it stands. Shares nothing with the search and
 * has the last word: lengths are added up anew, in millimetres.
 *
 * @example checkCutting(problem, plan) // []
 */
export function checkCutting(problem: CuttingProblem, plan: CuttingPlan): readonly string[] {
  return [...piecesFaults(problem, plan), ...barsFaults(problem, plan)];
}

function piecesFaults(problem: CuttingProblem, plan: CuttingPlan): string[] {
  const open = new Map<number, number>();
  for (const { lengthMm, count } of problem.pieces) {
    open.set(lengthMm, (open.get(lengthMm) ?? 0) + count);
  }
  for (const piece of plan.flatMap(({ pieces }) => pieces)) {
    open.set(piece, (open.get(piece) ?? 0) - 1);
  }
  return [...open].flatMap(([length, count]) => {
    if (count === 0) return [];
    return [`${Math.abs(count)} of {${length} mm} ${count > 0 ? "missing" : "too many"}`];
  });
}

function barsFaults(problem: CuttingProblem, plan: CuttingPlan): string[] {
  const faults: string[] = [];
  const left = new Map(problem.bars.map(({ id, count }) => [id, count]));
  const lengthOf = new Map(problem.bars.map(({ id, lengthMm }) => [id, lengthMm]));
  for (const bar of plan) {
    const known = lengthOf.get(bar.barId);
    if (known === undefined || known !== bar.lengthMm) {
      faults.push(`bar ${bar.barId} of {${bar.lengthMm} mm} is not on the rack`);
    }
    const count = left.get(bar.barId) ?? 0;
    if (count < 1) faults.push(`bar ${bar.barId} is cut more often than it is there`);
    left.set(bar.barId, count - 1);
    faults.push(...oneBarFaults(problem, bar));
  }
  return faults;
}

function oneBarFaults(
  { kerfMm, leastOffcutMm }: CuttingProblem,
  bar: CuttingPlan[number],
): string[] {
  const { barId, lengthMm, pieces, chipsMm, offcutMm, scrapMm } = bar;
  const faults: string[] = [];
  const taken = pieces.reduce((sum, piece) => sum + piece, 0);
  if (pieces.length === 0) faults.push(`bar ${barId} is taken for nothing`);
  if (Math.abs(taken + chipsMm + offcutMm + scrapMm - lengthMm) > SAME_MM) {
    faults.push(`bar ${barId} does not add up to {${lengthMm} mm}`);
  }
  if (Math.min(chipsMm, offcutMm, scrapMm) < 0) faults.push(`bar ${barId} has less than nothing`);
  // A cut between each two pieces; one more where anything is left, which may be less than a whole kerf.
  const rest = offcutMm + scrapMm;
  const [least, most] = [(pieces.length - 1) * kerfMm, pieces.length * kerfMm];
  const cuts = rest > SAME_MM ? most : chipsMm;
  if (Math.abs(chipsMm - cuts) > SAME_MM || chipsMm < least - SAME_MM || chipsMm > most + SAME_MM) {
    faults.push(`bar ${barId} has chips for another number of cuts`);
  }
  if (offcutMm > 0 && (offcutMm < leastOffcutMm - SAME_MM || scrapMm > 0)) {
    faults.push(`the offcut of bar ${barId} is not worth keeping`);
  }
  if (scrapMm >= leastOffcutMm) faults.push(`bar ${barId} throws away what is worth keeping`);
  return faults;
}
