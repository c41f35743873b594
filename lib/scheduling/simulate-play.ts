import type { Span } from "./calendar";
import { Hands, type keptHands } from "./simulate-hands";

const NEVER = Number.POSITIVE_INFINITY;

/** One load of one play: what was booked, and what came of it. Times epoch ms; `Infinity` is not within the play. */
export type PlayedLoad = {
  readonly id: string;
  /** index of the queue it stands in */
  readonly queue: number;
  readonly bookedStartMs: number;
  readonly bookedPullMs: number;
  /** ms its treatment truly takes; of what holds a tank without being loaded, the whole of its stretch */
  readonly lastsMs: number;
  readonly benchMs: number;
  /** ms from the pull on that it keeps a pair of hands */
  readonly handsMs: number;
  readonly currentA: number;
  /** `HELD`: a bath change, maintenance, begins and ends by itself; `RUNNING`: was loaded before the play begins */
  readonly kind: "LOAD" | "RUNNING" | "HELD";
  /** the loads whose pull it waits for */
  readonly after: readonly PlayedLoad[];
  beganMs: number;
  treatedMs: number;
  /** the tank is free again */
  outMs: number;
  /** it has left the bench */
  finishedMs: number;
};

/** What does not change from play to play. */
export type PlayedShop = {
  readonly nowMs: number;
  readonly untilMs: number;
  readonly openings: readonly Span[];
  readonly kept: ReturnType<typeof keptHands>;
  readonly hands: number;
  readonly loadMs: number;
  readonly pullMs: number;
  readonly ratingsA: readonly number[];
  /** each tank: the queue it serves, and its supply, by index */
  readonly tanks: readonly { readonly queue: number; readonly supply: number }[];
  readonly queues: number;
  /** pulled as soon as it is done and somebody is there, rather than not before the booked pull */
  readonly pullWhenDone: boolean;
};

/** What a load can wait for: an index into `Tally.waitedMs`; tanks follow these, and supplies follow the tanks. */
export const WAITS = { SHUT: 0, HANDS: 1, OTHER_END: 2, TANKS: 3 } as const;

/** What one play adds up to. */
export type Tally = {
  /** ms that loads waited past their booked start or pull, by what for */
  readonly waitedMs: Float64Array;
  /** ms that each tank was held, and the part of it with the shop open */
  readonly heldMs: Float64Array;
  readonly heldOpenMs: Float64Array;
  /** A·ms that each supply gave */
  readonly drawn: Float64Array;
  /** ms of pairs of hands at work while the shop was open */
  handsMs: number;
};

type Phase = "IDLE" | "LOADING" | "TREATING" | "READY" | "PULLING";
type Tank = {
  readonly index: number;
  readonly supply: Supply;
  load: PlayedLoad | null;
  phase: Phase;
  nextMs: number;
};
type Supply = { readonly index: number; readonly ratingA: number; drawA: number };
/** The loads of one tank, or of one tank and its twin, in the order they are booked. */
type Queue = { readonly tanks: Tank[]; readonly loads: PlayedLoad[]; head: number };

/** Currents are compared with this much room, A: sums of what was booked to the full are full, not over. */
const ROOM_A = 1e-6;

/**
 * One play: the shop from now on, with the hours that its loads truly take.
 *
 * The next instant at which anything can change is found, waiting and use are counted up to it, and what can happen
 * there happens: first what is through, then pulls, longest waiting first, then loads in the order they are booked.
 */
export class Play {
  readonly tally: Tally;
  private readonly hands: Hands;
  private readonly supplies: Supply[];
  private readonly tanks: Tank[];
  private readonly queues: Queue[];

  /** @param loads in the order of their booked start; their outcome is written into them */
  constructor(
    private readonly shop: PlayedShop,
    loads: readonly PlayedLoad[],
  ) {
    this.hands = new Hands(shop.openings, shop.kept, shop.hands);
    this.supplies = shop.ratingsA.map((ratingA, index) => ({ index, ratingA, drawA: 0 }));
    this.tanks = shop.tanks.flatMap(({ supply: at }, index) => {
      const supply = this.supplies[at];
      return supply ? [{ index, supply, load: null, phase: "IDLE" as const, nextMs: NEVER }] : [];
    });
    this.queues = Array.from({ length: shop.queues }, () => ({ tanks: [], loads: [], head: 0 }));
    for (const tank of this.tanks) {
      const queue = shop.tanks[tank.index]?.queue ?? 0;
      this.queues[queue]?.tanks.push(tank);
    }
    for (const load of loads) this.queues[load.queue]?.loads.push(load);
    const [tanks, supplies] = [this.tanks.length, this.supplies.length];
    this.tally = {
      waitedMs: new Float64Array(WAITS.TANKS + tanks + supplies),
      heldMs: new Float64Array(tanks),
      heldOpenMs: new Float64Array(tanks),
      drawn: new Float64Array(supplies),
      handsMs: 0,
    };
  }

  run(): void {
    let nowMs = this.shop.nowMs;
    while (nowMs < this.shop.untilMs) {
      this.hands.moveTo(nowMs);
      for (const tank of this.tanks) this.advance(tank, nowMs);
      this.pull(nowMs);
      this.load(nowMs);
      const nextMs = Math.min(this.nextEventMs(nowMs), this.shop.untilMs);
      if (nextMs > nowMs) this.count(nowMs, nextMs);
      nowMs = nextMs;
    }
  }

  private advance(tank: Tank, nowMs: number): void {
    while (tank.load && tank.nextMs <= nowMs) {
      if (tank.phase === "LOADING") {
        this.treat(tank, tank.load, nowMs + tank.load.lastsMs);
      } else if (tank.phase === "TREATING") {
        tank.phase = "READY";
        tank.nextMs = NEVER;
      } else {
        tank.load.outMs = nowMs;
        tank.supply.drawA -= tank.load.currentA;
        tank.load = null;
        tank.phase = "IDLE";
        tank.nextMs = NEVER;
      }
    }
  }

  private pull(nowMs: number): void {
    const ready = this.tanks.filter((tank) => tank.phase === "READY");
    if (ready.length === 0) return;
    ready.sort((a, b) => (a.load?.treatedMs ?? 0) - (b.load?.treatedMs ?? 0));
    for (const tank of ready) {
      const { load } = tank;
      if (!load) continue;
      if (!this.hands.isFree(nowMs, load.handsMs)) continue;
      this.hands.take(nowMs + load.handsMs);
      tank.phase = "PULLING";
      tank.nextMs = nowMs + this.shop.pullMs;
      load.finishedMs = nowMs + this.shop.pullMs + load.benchMs;
      this.advance(tank, nowMs);
    }
  }

  private load(nowMs: number): void {
    const due = this.queues.filter((queue) => bookedStart(queue) <= nowMs);
    due.sort((a, b) => bookedStart(a) - bookedStart(b));
    for (const queue of due) {
      while (bookedStart(queue) <= nowMs && this.begin(queue, nowMs)) queue.head += 1;
    }
  }

  /** Puts the head of a queue into a free tank, if nothing stands against it. */
  private begin(queue: Queue, nowMs: number): boolean {
    const load = queue.loads[queue.head];
    const tank = queue.tanks.find(({ phase }) => phase === "IDLE");
    if (!load || !tank || this.obstacle(load, tank, nowMs) !== null) return false;
    tank.load = load;
    tank.supply.drawA += load.currentA;
    load.beganMs = nowMs;
    if (load.kind === "HELD") {
      // Nothing loads or pulls it: it lasts as booked, and its hands are kept in the calendar.
      tank.phase = "PULLING";
      tank.nextMs = nowMs + load.lastsMs;
      load.finishedMs = tank.nextMs;
    } else if (load.kind === "RUNNING") {
      this.treat(tank, load, Math.max(nowMs, load.bookedStartMs + this.shop.loadMs + load.lastsMs));
    } else {
      this.hands.take(nowMs + this.shop.loadMs);
      tank.phase = "LOADING";
      tank.nextMs = nowMs + this.shop.loadMs;
    }
    return true;
  }

  private treat(tank: Tank, load: PlayedLoad, treatedMs: number): void {
    load.treatedMs = treatedMs;
    tank.phase = "TREATING";
    tank.nextMs = this.shop.pullWhenDone ? treatedMs : Math.max(treatedMs, load.bookedPullMs);
  }

  /** What keeps a load out of a free tank: an index of `waitedMs`; null when nothing does. */
  private obstacle(load: PlayedLoad, tank: Tank, nowMs: number): number | null {
    if (load.kind !== "LOAD") return null;
    if (load.after.some(({ outMs }) => outMs > nowMs)) return WAITS.OTHER_END;
    const { supply } = tank;
    if (supply.drawA + load.currentA > supply.ratingA + ROOM_A) {
      return WAITS.TANKS + this.tanks.length + supply.index;
    }
    if (!this.hands.isStaffed(nowMs, this.shop.loadMs)) return WAITS.SHUT;
    return this.hands.isFree(nowMs, this.shop.loadMs) ? null : WAITS.HANDS;
  }

  private nextEventMs(nowMs: number): number {
    let nextMs = this.hands.nextChangeMs(nowMs);
    for (const tank of this.tanks) nextMs = Math.min(nextMs, tank.nextMs);
    for (const queue of this.queues) {
      const startMs = bookedStart(queue);
      if (startMs > nowMs) nextMs = Math.min(nextMs, startMs);
    }
    return nextMs;
  }

  /** Adds up use and waiting over a stretch in which nothing changes. */
  private count(fromMs: number, untilMs: number): void {
    const lastsMs = untilMs - fromMs;
    const { waitedMs, heldMs, heldOpenMs, drawn } = this.tally;
    const open = this.hands.isOpen(fromMs);
    for (const tank of this.tanks) {
      if (!tank.load) continue;
      add(heldMs, tank.index, lastsMs);
      if (open) add(heldOpenMs, tank.index, lastsMs);
      // Until its booked pull a load that is done delays nothing.
      const lateMs = untilMs - Math.max(fromMs, tank.load.bookedPullMs);
      if (tank.phase === "READY" && lateMs > 0) {
        add(waitedMs, this.pullWaitsFor(tank.load, fromMs), lateMs);
      }
    }
    for (const supply of this.supplies) add(drawn, supply.index, supply.drawA * lastsMs);
    if (open) this.tally.handsMs += Math.min(this.hands.atWork(), this.shop.hands) * lastsMs;
    for (const queue of this.queues) this.countQueue(queue, fromMs, untilMs);
  }

  /** Behind a head that waits, a load waits from its own booked start on, which is no event of its own. */
  private countQueue(queue: Queue, fromMs: number, untilMs: number): void {
    if (bookedStart(queue) > fromMs) return;
    const cause = this.queueWaitsFor(queue, fromMs);
    for (let at = queue.head; at < queue.loads.length; at += 1) {
      const load = queue.loads[at];
      if (!load || load.bookedStartMs >= untilMs) break;
      if (load.kind === "HELD") continue;
      add(this.tally.waitedMs, cause, untilMs - Math.max(fromMs, load.bookedStartMs));
    }
  }

  /**
   * What the head of a queue waits for. A tank whose load is done and only waits to be pulled is not itself what is
   * short: the wait counts for what keeps the pull.
   */
  private queueWaitsFor(queue: Queue, nowMs: number): number {
    const load = queue.loads[queue.head];
    const [tank] = queue.tanks;
    if (!load || !tank) return WAITS.OTHER_END;
    const idle = queue.tanks.find(({ phase }) => phase === "IDLE");
    if (idle) return this.obstacle(load, idle, nowMs) ?? WAITS.TANKS + idle.index;
    const ready = queue.tanks.find(({ phase }) => phase === "READY");
    return ready?.load ? this.pullWaitsFor(ready.load, nowMs) : WAITS.TANKS + tank.index;
  }

  private pullWaitsFor(load: PlayedLoad, nowMs: number): number {
    return this.hands.isStaffed(nowMs, load.handsMs) ? WAITS.HANDS : WAITS.SHUT;
  }
}

const bookedStart = ({ loads, head }: Queue): number => loads[head]?.bookedStartMs ?? NEVER;

function add(sums: Float64Array, at: number, amount: number): void {
  sums[at] = (sums[at] ?? 0) + amount;
}
