import { Arrangement, compareCosts, type Cost, type Placed, type Unit } from "./arrangement";
import type { Board, BoardLoad, Schedule, Score } from "./board";
import { faultsOf } from "./faults";
import { scoreOf } from "./place";
import { dispatchRules, putBack, type Rule } from "./rebuild";
import { pickRuin } from "./ruin";
import { Chance } from "./simulate-chance";

export type ImproveOptions = {
  /** the same seed and number of tries give the same board, on every machine */
  readonly seed: number;
  /** a clock, ms; only differences count */
  readonly now: () => number;
  /** how long it may search, ms */
  readonly budgetMs: number;
  /** ends the search after so many tries, however long they took */
  readonly maxTries?: number;
  /** told now and then, from 0 to 1 */
  readonly onProgress?: (share: number) => void;
  /** asked now and then; the best found so far is the answer */
  readonly cancelled?: () => boolean;
};

/** What would change of one load. */
export type LoadChange = {
  readonly loadId: string;
  /** moved: booked before; joined: further dips go into it, moved or not; new: dips that waited */
  readonly kind: "MOVED" | "JOINED" | "NEW";
  readonly from: BoardLoad | null;
  readonly to: BoardLoad;
  /** dips that waited and go into a booked load */
  readonly joinedDipIds: readonly string[];
};

export type Improvement = {
  readonly schedule: Schedule;
  readonly score: Score;
  /** of the board as it is, with what waits counted as without a place */
  readonly before: Score;
  /** by start; empty when nothing better was found */
  readonly changes: readonly LoadChange[];
  readonly tries: number;
};

/** Tries between two looks at the clock. */
const TRIES_A_LOOK = 8;
/** Of its cost, a worse arrangement is gone on from: shrinks to nothing towards the end of the search. */
const TOLERANCE = 0.03;
/** After so many tries without a better one, the search begins again from the best. */
const PATIENCE = 400;

/**
 * Looks for a better board: fewer dips without a place, less weighted lateness, an earlier end, and of equals the one
 * that moves the fewest booked loads. What is held is never touched, and dips of one booked load stay together.
 *
 * First several dispatch rules build a board each; then parts of the best are taken off and put back in other orders
 * (large neighbourhood search, Shaw 1998; ruin and recreate, Schrimpf 2000; both from memory), and a little worse is
 * gone on from at first. The answer is never worse than the board as it is.
 *
 * @param current booked loads that may be moved; dips of the board in none of them wait
 * @example improveSchedule(board, loads, { seed: 1, now: () => performance.now(), budgetMs: 2000 }).changes
 */
export function improveSchedule(
  board: Board,
  current: readonly BoardLoad[],
  options: ImproveOptions,
): Improvement {
  const chance = new Chance(options.seed);
  const search = new Search(board, current, chance);
  const tries = search.run(options);
  search.backWhereBooked(current);
  const schedule = search.best();
  const inLoads = new Set(current.flatMap(({ dipIds }) => dipIds));
  const waiting = board.dips.map(({ id }) => id).filter((id) => !inLoads.has(id));
  return {
    schedule,
    score: scoreOf(board, schedule),
    before: scoreOf(board, { loads: current, unplaced: waiting }),
    changes: changesOf(current, schedule),
    tries,
  };
}

/**
 * A board built by dispatch rules alone, without a search; the best of them.
 * @example buildSchedule(board, loads, 1)
 */
export function buildSchedule(board: Board, current: readonly BoardLoad[], seed: number): Schedule {
  const search = new Search(board, current, new Chance(seed));
  search.build();
  return search.best();
}

type Snapshot = {
  readonly cost: Cost;
  readonly placed: readonly Placed[];
  readonly waiting: readonly Unit[];
};

class Search {
  readonly #arrangement: Arrangement;
  readonly #chance: Chance;
  readonly #rules: readonly Rule[];
  #best: Snapshot;

  constructor(board: Board, current: readonly BoardLoad[], chance: Chance) {
    this.#arrangement = new Arrangement(board);
    this.#chance = chance;
    this.#rules = dispatchRules(this.#arrangement);
    const arrangement = this.#arrangement;
    const inLoads = new Set<number>();
    for (const load of current) {
      const unit = arrangement.bookedUnit(load);
      for (const dip of unit.dips) inLoads.add(dip);
      const stretch = arrangement.timeline.stretchOf(load, unit.benchMinutes);
      arrangement.put({ ...arrangement.at(unit, stretch, load.needs), doneMs: load.benchUntilMs });
    }
    for (const index of board.dips.keys()) {
      if (!inLoads.has(index)) arrangement.wait(arrangement.waitingUnit([index]));
    }
    this.#best = this.#snapshot();
  }

  best(): Schedule {
    this.#restore(this.#best);
    return this.#arrangement.schedule();
  }

  /** What waits is added to the board as it is; then each rule builds one from nothing. */
  build(): void {
    const arrangement = this.#arrangement;
    const asItIs = this.#best;
    for (const rule of this.#rules) {
      this.#restore(asItIs);
      putBack(arrangement, rule, this.#chance, 0);
      this.#keepIfBetter();
      this.#restore(asItIs);
      for (const placed of [...arrangement.placed]) {
        arrangement.take(placed);
        arrangement.wait(placed.unit);
      }
      putBack(arrangement, rule, this.#chance, 0);
      this.#keepIfBetter();
    }
  }

  /** @returns how many rearrangements were tried */
  run({ now, budgetMs, maxTries, onProgress, cancelled }: ImproveOptions): number {
    const begun = now();
    this.build();
    this.#restore(this.#best);
    const arrangement = this.#arrangement;
    let cost = arrangement.cost();
    let tries = 0;
    let sinceBest = 0;
    const share = (): number =>
      Math.max((now() - begun) / budgetMs, maxTries === undefined ? 0 : tries / maxTries);
    let done = share();
    while (done < 1 && this.#isOpen()) {
      for (let look = 0; look < TRIES_A_LOOK; look += 1) {
        tries += 1;
        const mark = arrangement.mark();
        this.#rearrange();
        const next = arrangement.cost();
        if (this.#isWelcome(next, cost, done)) {
          cost = next;
          arrangement.keep();
          sinceBest = this.#keepIfBetter(next) ? 0 : sinceBest + 1;
        } else {
          arrangement.rollback(mark);
          sinceBest += 1;
        }
        if (sinceBest > PATIENCE) {
          this.#restore(this.#best);
          cost = this.#best.cost;
          sinceBest = 0;
        }
      }
      done = share();
      onProgress?.(Math.min(1, done));
      if (cancelled?.()) break;
    }
    return tries;
  }

  /** Loads go back to where they were booked, as long as that costs nothing: nobody is told of a move in vain. */
  backWhereBooked(current: readonly BoardLoad[]): void {
    const arrangement = this.#arrangement;
    this.#restore(this.#best);
    const now = arrangement.schedule();
    const byId = new Map(current.map((load) => [load.id, load]));
    let loads = now.loads;
    for (const { id } of [...loads]) {
      const booked = byId.get(id);
      const load = loads.find((one) => one.id === id);
      if (!booked || !load || load === booked || load.dipIds.length !== booked.dipIds.length)
        continue;
      if (faultsOf(arrangement.board, loads, booked).length > 0) continue;
      const tried = loads.map((one) => (one.id === id ? booked : one));
      const placed = [...arrangement.placed].find(({ unit }) => unit.id === id);
      if (!placed) continue;
      const mark = arrangement.mark();
      arrangement.take(placed);
      const stretch = arrangement.timeline.stretchOf(booked, placed.unit.benchMinutes);
      arrangement.put({
        ...arrangement.at(placed.unit, stretch, booked.needs),
        doneMs: booked.benchUntilMs,
      });
      if (compareCosts(arrangement.cost(), this.#best.cost) <= 0) loads = tried;
      else arrangement.rollback(mark);
    }
    this.#best = this.#snapshot();
  }

  #isOpen(): boolean {
    return this.#arrangement.placed.size + this.#arrangement.waiting.size > 1;
  }

  #rearrange(): void {
    const arrangement = this.#arrangement;
    for (const placed of pickRuin(arrangement, this.#chance)) {
      arrangement.take(placed);
      for (const unit of apart(arrangement, placed.unit, this.#chance)) arrangement.wait(unit);
    }
    const rule = this.#rules[Math.floor(this.#chance.uniform() * this.#rules.length)];
    if (rule) putBack(arrangement, rule, this.#chance);
  }

  #isWelcome(next: Cost, cost: Cost, done: number): boolean {
    if (next.unplaced !== cost.unplaced) return next.unplaced < cost.unplaced;
    const worth = ({ lateH, endH }: Cost): number =>
      lateH + (this.#best.cost.lateH > 0 ? 0.01 : 1) * endH;
    const slack = TOLERANCE * (1 - done) * (1 - done) * this.#chance.uniform();
    return worth(next) <= worth(cost) * (1 + slack) + 1e-9;
  }

  #keepIfBetter(cost = this.#arrangement.cost()): boolean {
    if (compareCosts(cost, this.#best.cost) >= 0) return false;
    this.#best = this.#snapshot();
    return true;
  }

  #snapshot(): Snapshot {
    const { placed, waiting } = this.#arrangement;
    return { cost: this.#arrangement.cost(), placed: [...placed], waiting: [...waiting] };
  }

  #restore({ placed, waiting }: Snapshot): void {
    const arrangement = this.#arrangement;
    const wanted = new Set(placed);
    for (const one of [...arrangement.placed]) if (!wanted.has(one)) arrangement.take(one);
    for (const one of placed) if (!arrangement.placed.has(one)) arrangement.put(one);
    for (const unit of [...arrangement.waiting]) arrangement.leave(unit);
    for (const unit of waiting) arrangement.wait(unit);
    arrangement.keep();
  }
}

/** A unit as it goes on: dips that only joined may part again; those of a booked load stay together. */
function apart(arrangement: Arrangement, unit: Unit, chance: Chance): readonly Unit[] {
  const { booked } = unit;
  const own = booked
    ? unit.dips.filter((dip) => booked.dipIds.includes(arrangement.board.dips[dip]?.id ?? ""))
    : [];
  const joined = unit.dips.filter((dip) => !own.includes(dip));
  if (joined.length === 0 || (!booked && joined.length === 1)) return [unit];
  if (chance.uniform() < 0.5) return [unit];
  const singles = joined.map((dip) => arrangement.waitingUnit([dip]));
  return booked ? [arrangement.bookedUnit(booked), ...singles] : singles;
}

function changesOf(current: readonly BoardLoad[], schedule: Schedule): readonly LoadChange[] {
  const before = new Map(current.map((load) => [load.id, load]));
  return schedule.loads.flatMap((to): LoadChange[] => {
    const from = before.get(to.id) ?? null;
    if (!from) return [{ loadId: to.id, kind: "NEW", from, to, joinedDipIds: [] }];
    const joinedDipIds = to.dipIds.filter((id) => !from.dipIds.includes(id));
    const moved = from.tankId !== to.tankId || from.startsAtMs !== to.startsAtMs;
    if (joinedDipIds.length > 0) {
      return [{ loadId: to.id, kind: "JOINED", from, to, joinedDipIds }];
    }
    return moved ? [{ loadId: to.id, kind: "MOVED", from, to, joinedDipIds }] : [];
  });
}
