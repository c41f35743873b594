import { type Actor, requirePermission } from "@/lib/access";
import {
  type BookablePart,
  findBookableParts,
  findTank,
  listPartsAwaitingTank,
  reading,
  type TankRow,
} from "@/lib/data";
import { isRefusal, Refusal } from "@/lib/errors";
import { nextFreeSlots, type Slot } from "@/lib/scheduling";
import { doubtOf, layOut, type Layout } from "./layout";
import { benchMinutesOf, loadOfParts, type LoadPlan, nextEnd } from "./needs";
import { busySpans, fullSpans, HORIZON_DAYS, timing } from "./time";

const DAY_MS = 86_400_000;

export type SlotOffer = {
  readonly part: BookablePart;
  /** which end goes in, of how many */
  readonly end: number;
  readonly ends: number;
  readonly tank: TankRow;
  /** parts that go in together, `part` first */
  readonly together: readonly BookablePart[];
  /** other parts planned for this tank that could go in with it */
  readonly others: readonly BookablePart[];
  readonly load: LoadPlan | null;
  /** why it cannot be booked at all */
  readonly hindrance: string | null;
  /** how the load hangs, or does not */
  readonly layout: Layout | null;
  /** why it may not fit, though a person who laid it out may say that it does */
  readonly doubt: string | null;
  /** free times of the tank; also where only the room lacks */
  readonly slots: readonly Slot[];
  readonly loadMinutes: number;
  readonly pullMinutes: number;
  readonly timeZone: string;
};

/**
 * The next free slots for a planned part, alone or with others of the same tank.
 *
 * @param withPartIds further parts for the same load
 * @throws Refusal not-allowed | not-found
 */
export async function offerSlots(
  actor: Actor,
  choice: { readonly partId: string; readonly withPartIds: readonly string[] },
  now: Date,
): Promise<SlotOffer> {
  requirePermission(actor, "book");
  return reading(async (db) => {
    const [part] = await findBookableParts(db, [choice.partId]);
    if (!part) throw new Refusal("not-found", "This part is not in the shop.");
    const tank = part.plan && (await findTank(db, part.plan.tankId));
    if (!part.plan || !tank)
      throw new Refusal("conflict", "Plan this part first: the plan names its tank.");
    const waiting = await listPartsAwaitingTank(db, tank.id);
    const others = waiting.filter(({ id }) => id !== part.id);
    const together = [part, ...others.filter(({ id }) => choice.withPartIds.includes(id))];
    const { calendar, openings, bench } = await timing(db, new Date(now.getTime() - DAY_MS), now);
    const common = {
      part,
      end: nextEnd(part),
      ends: part.plan.dipCount,
      tank,
      together,
      others,
      loadMinutes: bench.loadMinutes,
      pullMinutes: bench.pullMinutes,
      timeZone: calendar.timeZone,
    };
    const answer = loadOrHindrance(together, tank);
    if (typeof answer === "string") {
      return { ...common, load: null, hindrance: answer, layout: null, doubt: null, slots: [] };
    }
    const slots = nextFreeSlots({
      ...bench,
      hours: answer.hours,
      benchMinutes: benchMinutesOf(answer, bench),
      busy: await busySpans(db, tank.id, now),
      supplyFull: await fullSpans(db, tank, answer.expectedCurrentA, now),
      openings,
      afterMs: Math.max(nextFiveMinutes(now), ...outBefore(together)),
      horizonMs: now.getTime() + HORIZON_DAYS * DAY_MS,
    });
    return { ...common, load: answer, slots, ...roomFor(together, tank) };
  });
}

/** Whether the tank has room for them, whenever it is free. */
function roomFor(
  parts: readonly BookablePart[],
  tank: TankRow,
): Pick<SlotOffer, "layout" | "hindrance" | "doubt"> {
  const layout = layOut(parts, tank);
  const doubt = doubtOf(layout, tank);
  if (!doubt) return { layout, hindrance: null, doubt: null };
  return doubt.proven
    ? { layout, hindrance: doubt.words, doubt: null }
    : { layout, hindrance: null, doubt: doubt.words };
}

function loadOrHindrance(parts: readonly BookablePart[], tank: TankRow): LoadPlan | string {
  if (tank.retiredAt) return `${tank.name} is out of use. Plan the part anew.`;
  try {
    return loadOfParts(parts, tank);
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}

/** When the ends of parts that are booked already are out. */
const outBefore = (parts: readonly BookablePart[]): readonly number[] =>
  parts.flatMap(({ endsBooked }) => endsBooked.map(({ endsAt }) => endsAt.getTime()));

/** Nobody loads at 14:03:27. */
function nextFiveMinutes(now: Date): number {
  const step = 5 * 60_000;
  return Math.ceil(now.getTime() / step) * step;
}
