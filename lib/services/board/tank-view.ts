import type { ReadingRow, RunRow, TankHistory, TankRow } from "@/lib/data";
import type { TankShape } from "@/lib/tanks";
import { type RunProgress, runProgress } from "../runs";
import { type AnodeCondition, anodeCondition, bathLevel, tankShape } from "../tanks";

/** A tank as the board draws it. */
export type TankView = {
  readonly tank: TankRow;
  readonly shape: TankShape;
  readonly state: "drained" | "still" | "bubbling";
  readonly levelMm: number;
  /** the load, seen from the side */
  readonly load: { readonly alongMm: number; readonly upMm: number } | null;
  readonly running: { readonly run: RunRow; readonly progress: RunProgress } | null;
  /** pulled, and still to be finished */
  readonly pulled: readonly RunRow[];
  /** the next booking that is not loaded yet */
  readonly next: RunRow | null;
  /** what holds the tank in the span that was asked for, by start */
  readonly bookings: readonly RunRow[];
  readonly anodes: readonly AnodeCondition[];
  /** what keeps it from taking a load, in words; empty when it is ready */
  readonly lacks: readonly string[];
};

/** What running loads showed, and what their tanks went through before. */
export type Seen = {
  /** by run */
  readonly readings: ReadonlyMap<string, readonly ReadingRow[]>;
  /** by tank */
  readonly histories: ReadonlyMap<string, TankHistory>;
};

/** Puts together what is known of one tank. */
export function tankView(
  tank: TankRow,
  runs: readonly RunRow[],
  { readings, histories }: Seen,
  now: Date,
): TankView {
  const run = runs.find(({ state }) => state === "RUNNING");
  const running = run
    ? {
        run,
        progress: runProgress(
          run,
          readings.get(run.id) ?? [],
          { tank, history: histories.get(tank.id) },
          now,
        ),
      }
    : null;
  const nominalMm = tank.bath ? bathLevel(tank, tank.bath.volumeL) : 0;
  return {
    tank,
    shape: tankShape(tank),
    state: running ? "bubbling" : tank.bath ? "still" : "drained",
    levelMm: running?.progress.latest?.levelMm ?? nominalMm,
    load: run ? loadSeen(run) : null,
    running,
    pulled: runs.filter(({ state }) => state === "PULLED"),
    next: runs.find(({ state }) => state === "PLANNED") ?? null,
    bookings: runs,
    anodes: tank.anodes.map((anode) => anodeCondition(anode, now)),
    lacks: lacks(tank),
  };
}

/** Several parts hang side by side; the drawing shows them as one block, as wide as all and as high as the highest. */
function loadSeen(run: RunRow): { alongMm: number; upMm: number } | null {
  const lies = run.dips.map(({ plan }) => plan.result.lie);
  if (lies.length === 0) return null;
  return {
    alongMm: lies.reduce((sum, { along }) => sum + along, 0),
    upMm: Math.max(...lies.map(({ up }) => up)),
  };
}

function lacks({ bath, anodes, supply }: TankRow): string[] {
  return [
    ...(bath ? [] : ["no bath"]),
    ...(anodes.length > 0 ? [] : ["no anode"]),
    ...(supply ? [] : ["no supply"]),
  ];
}
