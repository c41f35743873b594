import type { Machine } from "./machine";
import { type Cancel, Cancelled, type Progress } from "./scene";

/*
 * Conjugate gradients, each step corrected by one V-cycle.
 *
 * The potential is kept in double precision; what is added to it, with directions and residual, in single, which halves
 * what has to go through memory. Single precision carries a residual down by some digits, so what was added is then put
 * into the potential, the residual is worked out anew in double, and the gradients start again from there (iterative
 * refinement).
 */

/** Share of the residual left when it is worked out anew. */
const REFRESH_AT = 1e-6;

export type Stop = {
  /** Residual over right-hand side, both as Euclidean norms. */
  readonly tolerance: number;
  readonly mostIterations: number;
  readonly onProgress?: Progress | undefined;
  readonly cancel?: Cancel | undefined;
};

export type Solved = { readonly iterations: number; readonly residual: number };

/**
 * Solves A·potential = source, both in the machine.
 *
 * @throws Cancelled when told to end
 * @throws RangeError when it does not get there in `mostIterations`
 */
export function solve(machine: Machine, stop: Stop): Solved {
  const scale = Math.sqrt(machine.source.reduce((sum, value) => sum + value * value, 0));
  if (scale === 0) {
    machine.potential.fill(0);
    return { iterations: 0, residual: 0 };
  }
  const goal = stop.tolerance * scale;
  let iterations = 0;
  let norm = Math.sqrt(machine.refresh());
  while (norm > goal) {
    const until = Math.max(goal, REFRESH_AT * norm);
    let squared = 0;
    while (norm > until) {
      if (stop.cancel?.cancelled) throw new Cancelled("the field solution was told to end");
      if (iterations++ >= stop.mostIterations) throw notThere(stop, norm / scale);
      const product = machine.correct();
      const carried = squared === 0 ? 0 : product / squared;
      squared = product;
      norm = Math.sqrt(machine.step(carried, product));
      stop.onProgress?.(Math.min(1, Math.log(norm / scale) / Math.log(stop.tolerance)));
    }
    machine.takeGain();
    norm = Math.sqrt(machine.refresh());
  }
  return { iterations, residual: norm / scale };
}

function notThere({ mostIterations, tolerance }: Stop, reached: number): RangeError {
  return new RangeError(
    `the field solution reached a residual of ${reached.toExponential(1)} in ${mostIterations} iterations, ` +
      `expected ${tolerance.toExponential(1)}`,
  );
}
