import { checkNonNegative, checkPositive } from "@/lib/units";
import { joined, type Span } from "./calendar";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** What a load asks for. */
export type LoadNeeds = {
  /** treatment under current, h; runs on overnight with nobody there */
  readonly hours: number;
  /** hands needed to load, min; the whole of it while the shop is open */
  readonly loadMinutes: number;
  /** hands needed to pull, min; the whole of it while the shop is open */
  readonly pullMinutes: number;
  /**
   * hands needed at once after the pull, min; 0 when left out. They lie in the same opening as the pull, as far as the
   * longest opening has room for both: bare iron rusts again while it waits.
   */
  readonly benchMinutes?: number;
};

/** Why a slot starts no earlier, or ends later than the treatment asks. */
export type SlotReason =
  | { readonly kind: "TANK_BUSY"; readonly untilMs: number }
  | { readonly kind: "SUPPLY_FULL"; readonly untilMs: number }
  | { readonly kind: "SHUT"; readonly untilMs: number }
  | { readonly kind: "NEXT_LOAD_TOO_SOON"; readonly nextLoadMs: number }
  | { readonly kind: "WAITS_FOR_PULL"; readonly hours: number };

/** One stretch of a tank: load, treat, pull. The tank is held from `startsAtMs` up to `endsAtMs`. */
export type Slot = {
  readonly startsAtMs: number;
  /** loaded, supply on */
  readonly currentOnMs: number;
  /** the treatment has had its hours */
  readonly treatedAtMs: number;
  /** somebody is there to pull */
  readonly pullAtMs: number;
  readonly endsAtMs: number;
  readonly reasons: readonly SlotReason[];
};

export type SlotSearch = LoadNeeds & {
  /** stretches in which the tank is taken */
  readonly busy: readonly Span[];
  /** stretches in which the tank's supply has no room for this load; none when left out */
  readonly supplyFull?: readonly Span[];
  /** stretches in which somebody is there, as `openingsBetween` gives them */
  readonly openings: readonly Span[];
  readonly afterMs: number;
  /** every slot ends by then */
  readonly horizonMs: number;
  /** how many to offer; 4 when left out */
  readonly count?: number;
};

/**
 * The first free slots of one tank: the earliest start in each opening that leaves room to load, treat and pull.
 *
 * A pull that would fall when nobody is there waits for the next opening, and the slot is longer for it. Since a
 * later start never brings an earlier pull, a gap that is too short for its first start is too short for all.
 *
 * @returns in order of start, at most `count`; empty when nothing fits before the horizon
 * @throws RangeError if the hours are not above 0 or a duration is negative
 * @example nextFreeSlots({ busy: [], openings, hours: 4, loadMinutes: 15, pullMinutes: 10, afterMs, horizonMs })
 */
export function nextFreeSlots(search: SlotSearch): readonly Slot[] {
  checkNeeds(search);
  const slots: Slot[] = [];
  const waits = new Map<number, SlotReason>();
  const taken = [...search.busy, ...(search.supplyFull ?? [])];
  for (const gap of freeGaps(taken, search.afterMs, search.horizonMs)) {
    for (const opening of search.openings) {
      const fromMs = Math.max(gap.fromMs, opening.fromMs);
      if (fromMs + search.loadMinutes * MS_PER_MINUTE > Math.min(opening.untilMs, gap.untilMs)) {
        continue;
      }
      const slot = slotAt(fromMs, search);
      if (!slot) continue;
      if (slot.endsAtMs > gap.untilMs) {
        if (gap.untilMs < search.horizonMs) {
          waits.set(gap.untilMs, { kind: "NEXT_LOAD_TOO_SOON", nextLoadMs: gap.untilMs });
        }
        break;
      }
      const reasons = whyNotEarlier(fromMs, search, [...waits.values()]);
      slots.push({ ...slot, reasons: [...reasons, ...slot.reasons] });
      if (slots.length === (search.count ?? 4)) return slots;
    }
  }
  return slots;
}

/**
 * The slot that a chosen start makes.
 *
 * @returns null when nobody is there for the whole loading, or ever again to pull
 * @throws RangeError as `nextFreeSlots`
 * @example slotAt(Date.parse("2026-11-25T14:00Z"), { openings, hours: 4, loadMinutes: 15, pullMinutes: 10 })
 */
export function slotAt(
  startsAtMs: number,
  needs: LoadNeeds & { readonly openings: readonly Span[] },
): Slot | null {
  checkNeeds(needs);
  const currentOnMs = startsAtMs + needs.loadMinutes * MS_PER_MINUTE;
  if (!attended(startsAtMs, currentOnMs, needs.openings)) return null;
  const treatedAtMs = currentOnMs + needs.hours * MS_PER_HOUR;
  const pullMs = needs.pullMinutes * MS_PER_MINUTE;
  const longestMs = Math.max(0, ...needs.openings.map((span) => span.untilMs - span.fromMs));
  const benchMs = (needs.benchMinutes ?? 0) * MS_PER_MINUTE;
  const handsMs = Math.max(pullMs, Math.min(pullMs + benchMs, longestMs));
  const pullAtMs = firstAttended(treatedAtMs, handsMs, needs.openings);
  if (pullAtMs === null) return null;
  const waited = (pullAtMs - treatedAtMs) / MS_PER_HOUR;
  return {
    startsAtMs,
    currentOnMs,
    treatedAtMs,
    pullAtMs,
    endsAtMs: pullAtMs + pullMs,
    reasons: waited > 0 ? [{ kind: "WAITS_FOR_PULL", hours: waited }] : [],
  };
}

/** The busy stretch that a slot would run into, if any. */
export function clashWith(slot: Slot, busy: readonly Span[]): Span | null {
  return busy.find((span) => span.fromMs < slot.endsAtMs && slot.startsAtMs < span.untilMs) ?? null;
}

function attended(fromMs: number, untilMs: number, openings: readonly Span[]): boolean {
  return openings.some((opening) => opening.fromMs <= fromMs && untilMs <= opening.untilMs);
}

function firstAttended(fromMs: number, lastsMs: number, openings: readonly Span[]): number | null {
  for (const opening of openings) {
    const at = Math.max(fromMs, opening.fromMs);
    if (at + lastsMs <= opening.untilMs) return at;
  }
  return null;
}

function freeGaps(busy: readonly Span[], fromMs: number, untilMs: number): Span[] {
  const gaps: Span[] = [];
  let freeFrom = fromMs;
  for (const span of joined(busy)) {
    if (span.untilMs <= freeFrom) continue;
    if (span.fromMs > freeFrom) gaps.push({ fromMs: freeFrom, untilMs: span.fromMs });
    freeFrom = span.untilMs;
  }
  if (freeFrom < untilMs) gaps.push({ fromMs: freeFrom, untilMs });
  return gaps.filter((gap) => gap.fromMs < untilMs);
}

/** What held the start back: a load before it, a gap that was too short, or closed doors. */
function whyNotEarlier(
  startsAtMs: number,
  { busy, supplyFull = [], openings, afterMs }: SlotSearch,
  tooShort: readonly SlotReason[],
): SlotReason[] {
  if (startsAtMs <= afterMs) return [];
  const reasons: SlotReason[] = [...tooShort];
  const lastOf = (spans: readonly Span[]): Span | undefined =>
    joined(spans)
      .filter((span) => span.untilMs > afterMs && span.untilMs <= startsAtMs)
      .at(-1);
  const tank = lastOf(busy);
  if (tank) reasons.push({ kind: "TANK_BUSY", untilMs: tank.untilMs });
  const supply = lastOf(supplyFull);
  if (supply) reasons.push({ kind: "SUPPLY_FULL", untilMs: supply.untilMs });
  if (openings.some((opening) => opening.fromMs === startsAtMs)) {
    reasons.push({ kind: "SHUT", untilMs: startsAtMs });
  }
  return reasons;
}

function checkNeeds({ hours, loadMinutes, pullMinutes, benchMinutes }: LoadNeeds): void {
  checkPositive("hours of treatment", hours, "h");
  checkNonNegative("time to load", loadMinutes, "min");
  checkNonNegative("time to pull", pullMinutes, "min");
  checkNonNegative("time on the bench", benchMinutes ?? 0, "min");
}
