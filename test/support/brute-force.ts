import { type Board, type BoardLoad, compareScores, type Score, scoreOf } from "@/lib/scheduling";
import { HOUR_MS, MINUTE_MS } from "./board-of";

/** The best score of dips that go in one by one, over all orders, tanks, starts and pulls; for a handful of steps. */
export function bestByBruteForce(board: Board): Score {
  const steps = Math.round((board.horizonMs - board.nowMs) / board.stepMs);
  let best = scoreOf(board, { loads: [], unplaced: board.dips.map(({ id }) => id) });
  const loads: BoardLoad[] = [];
  const place = (index: number): void => {
    const dip = board.dips[index];
    if (!dip) {
      const score = scoreOf(board, { loads, unplaced: [] });
      if (compareScores(score, best) < 0) best = score;
      return;
    }
    for (const [tankId, needs] of dip.tanks) {
      for (let start = 0; start < steps; start += 1) {
        for (let pull = start; pull < steps; pull += 1) {
          const startsAtMs = board.nowMs + start * board.stepMs;
          const pullAtMs = board.nowMs + pull * board.stepMs;
          const endsAtMs = pullAtMs + board.pullMinutes * MINUTE_MS;
          const benchUntilMs = endsAtMs + dip.benchMinutes * MINUTE_MS;
          const own = { id: dip.id, dipIds: [dip.id], tankId, needs };
          const load = { ...own, startsAtMs, pullAtMs, endsAtMs, benchUntilMs };
          if (!isAllowed(board, loads, load)) continue;
          loads.push(load);
          place(index + 1);
          loads.pop();
        }
      }
    }
  };
  place(0);
  return best;
}

/** The rules in the plainest words there are, for times on whole steps. */
function isAllowed(board: Board, others: readonly BoardLoad[], load: BoardLoad): boolean {
  const dip = board.dips.find(({ id }) => id === load.id);
  const treatedMs = load.startsAtMs + board.loadMinutes * MINUTE_MS + load.needs.hours * HOUR_MS;
  if (!dip || load.startsAtMs < dip.releaseMs || load.pullAtMs < treatedMs) return false;
  if (load.endsAtMs > board.horizonMs) return false;
  const works = (one: BoardLoad) => [
    [one.startsAtMs, one.startsAtMs + board.loadMinutes * MINUTE_MS] as const,
    [one.pullAtMs, one.benchUntilMs] as const,
  ];
  const all = [...others, load];
  for (const [from, until] of works(load)) {
    const isOpen = board.openings.some(
      (open) => open.fromMs <= from && from < open.untilMs && until <= open.untilMs,
    );
    if (!isOpen) return false;
  }
  const first = others.find(({ id }) => id === dip.afterId);
  if (first && load.startsAtMs < first.endsAtMs) return false;
  for (let at = load.startsAtMs; at < load.benchUntilMs; at += board.stepMs) {
    const inside = all.filter((one) => one.startsAtMs <= at && at < one.endsAtMs);
    if (inside.includes(load) && inside.filter(({ tankId }) => tankId === load.tankId).length > 1) {
      return false;
    }
    const drawnA = inside.reduce((sum, one) => sum + one.needs.currentA, 0);
    if (inside.includes(load) && drawnA > (board.supplies[0]?.ratingA ?? 0)) return false;
    const busy = all.flatMap(works).filter(([from, until]) => from <= at && at < until);
    if (busy.length > board.hands) return false;
  }
  return true;
}
