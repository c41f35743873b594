import { RunAcross, type RunLook } from "./run-drawing";

const CUTS = { loaded: 8, treated: 44, pull: 72, end: 80, bench: 80 };

const KINDS: readonly {
  readonly look: RunLook;
  readonly words: string;
  readonly wait?: boolean;
}[] = [
  { look: { tone: "booked", late: false, fixed: false }, words: "booked; low: waits for the pull" },
  { look: { tone: "running", late: false, fixed: false }, words: "running" },
  { look: { tone: "over", late: false, fixed: false }, words: "should be in, or out, by now" },
  { look: { tone: "pulled", late: false, fixed: false }, words: "pulled or finished" },
  { look: { tone: "booked", late: true, fixed: false }, words: "late for its promise" },
  { look: { tone: "booked", late: false, fixed: true }, words: "bolted: fixed in place" },
];

/** How to read the board, and how to move what is on it. */
export function Legend({ moves, upright }: { readonly moves: boolean; readonly upright: boolean }) {
  return (
    <details className="text-sm">
      <summary className="flex min-h-12 w-fit items-center font-medium">How to read this</summary>
      <ul className="flex flex-wrap gap-x-8 gap-y-3 py-2">
        {KINDS.map(({ look, words }) => (
          <li key={words} className="flex items-end gap-3">
            <span className="relative block h-10 w-20">
              <RunAcross cuts={CUTS} cross={40} look={look} />
            </span>
            {words}
          </li>
        ))}
        <li className="flex items-end gap-3">
          <span className="shut block h-10 w-12" aria-hidden="true" />
          nobody there
        </li>
        <li className="flex items-end gap-3">
          <span
            className="planks block h-10 w-12 border-2 border-dashed border-zinc"
            aria-hidden="true"
          />
          other work on the tank
        </li>
      </ul>
      <p>Arrows: somebody loads or pulls. A ledge after the gate: finishing on the bench.</p>
      {moves ? (
        <p id="board-keys">
          Enter opens a run. Arrow keys move it by a step along time, with Shift by an hour;{" "}
          {upright ? "left and right" : "up and down"} take it to another tank; [ and ] stretch it.
          Enter puts it there, Escape leaves it. Ctrl+Z takes the last move back.
        </p>
      ) : null}
    </details>
  );
}
