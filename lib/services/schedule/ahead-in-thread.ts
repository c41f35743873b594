import type { TankRow } from "@/lib/data";
import {
  type Arrivals,
  type Board,
  type ShopChange,
  type SimulatedWeeks,
  simulateWeeks,
  type Simulation,
  whatIf,
  type WhatIf,
} from "@/lib/scheduling";
import type { Problem } from "./problem";
import { sharingOf } from "./share";

/** What a thread is asked that plays the weeks ahead. */
export type AheadAsk = {
  readonly problem: Problem;
  readonly tanks: readonly TankRow[];
  readonly spreads: Simulation["spreads"];
  readonly heldLoads: NonNullable<Simulation["heldLoads"]>;
  readonly arrivals: Arrivals | null;
  readonly times: number;
  readonly seed: number;
  readonly untilMs: number;
  readonly change: ShopChange | null;
};

export type AheadAnswer = {
  readonly asItIs: SimulatedWeeks;
  readonly whatIf: WhatIf | null;
};

/** Plays the weeks ahead, as the shop is and with something more. */
export function aheadInThread(ask: AheadAsk, onProgress: (share: number) => void): AheadAnswer {
  const { problem, arrivals, change } = ask;
  const board: Board = { ...problem.board, share: sharingOf(problem.dips, ask.tanks) };
  const simulation: Simulation = {
    board,
    loads: problem.loads,
    spreads: ask.spreads,
    heldLoads: ask.heldLoads,
    times: ask.times,
    seed: ask.seed,
    untilMs: ask.untilMs,
    ...(arrivals && { arrivals }),
  };
  const halves = change ? 2 : 1;
  const asItIs = simulateWeeks(simulation, (share) => {
    onProgress(share / halves);
  });
  const changed = change
    ? whatIf(simulation, asItIs, [change], (share) => {
        onProgress((1 + share) / 2);
      })
    : null;
  return { asItIs, whatIf: changed };
}
