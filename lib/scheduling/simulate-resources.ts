import type { Board } from "./board";
import { wilson } from "./simulate-chance";
import { type PlayedShop, type Tally, WAITS } from "./simulate-play";
import type { ResourceKind, SimulatedResource } from "./simulate-types";

const MS_PER_HOUR = 3_600_000;

type Resource = { readonly kind: ResourceKind; readonly id: string; readonly wait: number };

/** Adds up what the plays used and waited for. */
export class ResourceBook {
  /** load-hours of waiting, by play */
  readonly delayHours: Float64Array;
  private readonly resources: readonly Resource[];
  private readonly waitedMs: Float64Array;
  private readonly worst: Float64Array;
  private readonly held: Float64Array;
  private readonly heldOpen: Float64Array;
  private readonly drawn: Float64Array;
  private handsMs = 0;

  constructor(
    board: Board,
    private readonly shop: PlayedShop,
    private readonly times: number,
  ) {
    const tanks = board.tanks.length;
    this.resources = [
      { kind: "OPENINGS", id: "", wait: WAITS.SHUT },
      { kind: "HANDS", id: "", wait: WAITS.HANDS },
      ...board.tanks.map(({ id }, at) => ({ kind: "TANK" as const, id, wait: WAITS.TANKS + at })),
      ...board.supplies.map(({ id }, at) => ({
        kind: "SUPPLY" as const,
        id,
        wait: WAITS.TANKS + tanks + at,
      })),
    ];
    this.delayHours = new Float64Array(times);
    this.waitedMs = new Float64Array(WAITS.TANKS + tanks + board.supplies.length);
    this.worst = new Float64Array(this.waitedMs.length);
    this.held = new Float64Array(tanks);
    this.heldOpen = new Float64Array(tanks);
    this.drawn = new Float64Array(board.supplies.length);
  }

  note(play: number, tally: Tally): void {
    addAll(this.waitedMs, tally.waitedMs);
    addAll(this.held, tally.heldMs);
    addAll(this.heldOpen, tally.heldOpenMs);
    addAll(this.drawn, tally.drawn);
    this.handsMs += tally.handsMs;
    this.delayHours[play] = tally.waitedMs.reduce((sum, ms) => sum + ms, 0) / MS_PER_HOUR;
    const most = this.mostWaitedFor(tally.waitedMs);
    if (most) this.worst[most.wait] = at(this.worst, most.wait) + 1;
  }

  results(): readonly SimulatedResource[] {
    const total = this.resources.reduce((sum, { wait }) => sum + at(this.waitedMs, wait), 0);
    return this.resources.map((resource) => {
      const waitedMs = at(this.waitedMs, resource.wait);
      return {
        kind: resource.kind,
        id: resource.id,
        ...this.useOf(resource),
        waitedHours: waitedMs / MS_PER_HOUR / this.times,
        shareOfDelay: total === 0 ? 0 : waitedMs / total,
        worst: wilson(at(this.worst, resource.wait), this.times),
      };
    });
  }

  /** h a play of waiting for the other end of the same part */
  otherEndHours(): number {
    return at(this.waitedMs, WAITS.OTHER_END) / MS_PER_HOUR / this.times;
  }

  private mostWaitedFor(waitedMs: Float64Array): Resource | null {
    let most: Resource | null = null;
    for (const resource of this.resources) {
      if (at(waitedMs, resource.wait) > (most ? at(waitedMs, most.wait) : 0)) most = resource;
    }
    return most;
  }

  private useOf({ kind, wait }: Resource): Pick<SimulatedResource, "used" | "usedWhileOpen"> {
    const { shop } = this;
    const clockMs = (shop.untilMs - shop.nowMs) * this.times;
    const openMs = this.times * openedMs(shop);
    if (kind === "OPENINGS") return { used: openMs / clockMs, usedWhileOpen: null };
    if (kind === "HANDS")
      return { used: per(this.handsMs, openMs * shop.hands), usedWhileOpen: null };
    const tank = wait - WAITS.TANKS;
    if (kind === "TANK") {
      return {
        used: at(this.held, tank) / clockMs,
        usedWhileOpen: per(at(this.heldOpen, tank), openMs),
      };
    }
    const supply = tank - this.held.length;
    const ratingA = at(shop.ratingsA, supply);
    return { used: per(at(this.drawn, supply), ratingA * clockMs), usedWhileOpen: null };
  }
}

/** ms of the plays with somebody there. */
function openedMs({ openings, nowMs, untilMs }: PlayedShop): number {
  return openings.reduce(
    (sum, one) => sum + Math.max(0, Math.min(one.untilMs, untilMs) - Math.max(one.fromMs, nowMs)),
    0,
  );
}

const at = (values: ArrayLike<number>, index: number): number => values[index] ?? 0;
const per = (part: number, whole: number): number => (whole === 0 ? 0 : part / whole);

function addAll(sums: Float64Array, values: Float64Array): void {
  values.forEach((value, index) => {
    sums[index] = at(sums, index) + value;
  });
}
