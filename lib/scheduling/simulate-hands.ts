import type { Span } from "./calendar";

/** From one instant on, so many hands are kept by what holds a tank (a bath change, a running load's pull). */
type Kept = { readonly fromMs: number; readonly hands: number };

/**
 * The people of the shop during one play: when they are there, and what keeps each of them. Time only moves forward.
 */
export class Hands {
  private opening = 0;
  private step = 0;
  /** when each pair of hands that is at work will be free again */
  private busyUntilMs: number[] = [];

  constructor(
    private readonly openings: readonly Span[],
    private readonly kept: readonly Kept[],
    private readonly hands: number,
  ) {}

  /** Moves to an instant, and lets go those who are through. */
  moveTo(nowMs: number): void {
    while ((this.openings[this.opening]?.untilMs ?? Number.POSITIVE_INFINITY) <= nowMs) {
      this.opening += 1;
    }
    while ((this.kept[this.step]?.fromMs ?? Number.POSITIVE_INFINITY) <= nowMs) this.step += 1;
    if (this.busyUntilMs.some((until) => until <= nowMs)) {
      this.busyUntilMs = this.busyUntilMs.filter((until) => until > nowMs);
    }
  }

  /** Whether somebody is there for so long, busy or not. */
  isStaffed(nowMs: number, lastsMs: number): boolean {
    const opening = this.openings[this.opening];
    return opening !== undefined && opening.fromMs <= nowMs && nowMs + lastsMs <= opening.untilMs;
  }

  /** Whether a pair of hands can be spared for so long, what will keep one by then counted too. */
  isFree(nowMs: number, lastsMs: number): boolean {
    if (!this.isStaffed(nowMs, lastsMs)) return false;
    if (this.busyUntilMs.length + this.keptNow() >= this.hands) return false;
    for (let next = this.step; next < this.kept.length; next += 1) {
      const change = this.kept[next];
      if (!change || change.fromMs >= nowMs + lastsMs) break;
      const atWork = this.busyUntilMs.filter((until) => until > change.fromMs).length;
      if (atWork + change.hands >= this.hands) return false;
    }
    return true;
  }

  take(untilMs: number): void {
    this.busyUntilMs.push(untilMs);
  }

  /** Pairs of hands at work. */
  atWork(): number {
    return this.busyUntilMs.length + this.keptNow();
  }

  isOpen(nowMs: number): boolean {
    return this.isStaffed(nowMs, 0);
  }

  /** The next instant at which somebody comes, goes or is through. */
  nextChangeMs(nowMs: number): number {
    let nextMs = this.kept[this.step]?.fromMs ?? Number.POSITIVE_INFINITY;
    const opening = this.openings[this.opening];
    if (opening)
      nextMs = Math.min(nextMs, opening.fromMs > nowMs ? opening.fromMs : opening.untilMs);
    for (const until of this.busyUntilMs) nextMs = Math.min(nextMs, until);
    return nextMs;
  }

  private keptNow(): number {
    return this.kept[this.step - 1]?.hands ?? 0;
  }
}

/** How many hands are kept from when on, from the stretches that keep one each. */
export function keptHands(attended: readonly Span[]): readonly Kept[] {
  const changes = attended
    .flatMap(({ fromMs, untilMs }) => [
      { atMs: fromMs, by: 1 },
      { atMs: untilMs, by: -1 },
    ])
    .sort((a, b) => a.atMs - b.atMs);
  const kept: Kept[] = [];
  let hands = 0;
  for (const { atMs, by } of changes) {
    hands += by;
    if (kept.at(-1)?.fromMs === atMs) kept.pop();
    kept.push({ fromMs: atMs, hands });
  }
  return kept;
}
