import { Temporal } from "temporal-polyfill";
import { checkRange } from "@/lib/units";
import type { Board } from "./board";
import { dayAt, joined } from "./calendar";
import { changedBoard } from "./change";
import { givingWay } from "./promise-give-way";
import { Ground } from "./promise-ground";
import { bestPlan, type Plan, plansByTank } from "./promise-place";
import { mayShare, sharing } from "./promise-share";
import type {
  EarliestPromise,
  Help,
  HelpKind,
  PromisedSlot,
  PromiseQuestion,
  WhyNotEarlier,
} from "./promise-types";
import { explainer } from "./promise-why";

const MS_PER_HOUR = 3_600_000;
/** What would gain less than this is not worth proposing, ms. */
const LEAST_GAIN_MS = MS_PER_HOUR;
/** More than everything on a board could draw, A, and still a whole number of milliamperes in 32 bits. */
const MOST_A = 2_000_000;

/**
 * The earliest that a new part can be promised for, with everything that is booked left alone: nine times in ten it
 * has left the bench by then. With it why it is not earlier, the best in every other tank, and what would help.
 *
 * What would help is not guessed: each change is made on the board and the part placed anew, and only what brings it
 * forward by an hour or more is told. Opening longer and more hands are taken to serve the part, while booked loads
 * stay as they are.
 *
 * @returns exact on the board's grid of starts: no other start in any tank has it ready sooner, booked loads untouched
 * @throws RangeError when `medianShare` is not above 0 and at most 1, or the second dip does not wait for the first
 * @example earliestPromise({ board, loads, part, timeZone: "Europe/Berlin" }).slot?.day // "2026-12-03"
 */
export function earliestPromise(question: PromiseQuestion): EarliestPromise {
  checkQuestion(question);
  const { board, loads, part } = question;
  const ground = new Ground(board, loads, part);
  const [best, ...others] = plansByTank(ground, part);
  return {
    slot: best ? slotOf(best, question, ground) : null,
    whyNotEarlier: best ? whyNotEarlier(best, question) : [],
    runnersUp: others.map((plan) => slotOf(plan, question, ground)),
    wouldHelp: helpsFor(question, ground, best ?? null),
  };
}

function slotOf(plan: Plan, question: PromiseQuestion, ground: Ground): PromisedSlot {
  const { timeZone, medianShare } = question;
  const doneMs = plan.doneMs;
  const medianMs = medianShare === undefined ? null : medianOf(plan, medianShare, ground);
  return {
    loads: plan.loads,
    doneMs,
    day: dayAt(doneMs, timeZone),
    median: medianMs === null ? null : { doneMs: medianMs, day: dayAt(medianMs, timeZone) },
  };
}

/** When the last dip has left the bench if its hours turn out as they do half the time, epoch ms. */
function medianOf(plan: Plan, share: number, ground: Ground): number | null {
  const [first, last] = [plan.loads[0], plan.loads.at(-1) ?? plan.loads[0]];
  // A load that is shared waits for all that is in it; its median is not the part's own.
  if (last.dipIds.length > 1) return null;
  const needs = { ...last.needs, hours: share * last.needs.hours };
  const isOwn = first !== last && first.dipIds.length === 1;
  if (isOwn) ground.put(first);
  const times = ground.slotAt(needs, last.tankId, last.dipIds, last.startsAtMs);
  if (isOwn) ground.take(first);
  return times && Math.min(times.benchUntilMs, plan.doneMs);
}

function whyNotEarlier(plan: Plan, { board, loads, part }: PromiseQuestion): WhyNotEarlier[] {
  return plan.loads.map((load, at): WhyNotEarlier => {
    const before = plan.loads.slice(0, at);
    const { heldBack, waitsForPull } = explainer(board, [...loads, ...before], part);
    const other = before.at(-1);
    const [dipId = ""] = load.dipIds;
    const releaseMs = part.dips[at]?.releaseMs ?? board.nowMs;
    return {
      dipId,
      heldBack: heldBack({
        load,
        releaseMs,
        other: other ? { dipId: other.dipIds[0] ?? "", outMs: other.endsAtMs } : null,
      }),
      waitsForPull: waitsForPull(load),
    };
  });
}

/** Every change that was tried and gains enough, the most gained first. */
function helpsFor(question: PromiseQuestion, ground: Ground, before: Plan | null): readonly Help[] {
  const byMs = (before?.doneMs ?? Number.POSITIVE_INFINITY) - LEAST_GAIN_MS;
  const tried = [
    ...openings(question),
    ...changes(question, byMs),
    ...(mayShare(question.part) ? shared(question, ground, byMs) : []),
    ...givingWay(question, ground, byMs).map(({ plan, moved }) => ({
      help: { kind: "GIVE_WAY" as const, moved },
      plan,
      ground,
    })),
  ];
  return tried
    .filter(({ plan }) => plan.doneMs <= byMs)
    .sort((a, b) => a.plan.doneMs - b.plan.doneMs)
    .map(({ help, plan, ground: changed }) => {
      const slot = slotOf(plan, question, changed);
      return { ...help, slot, ...gainOf(slot, before, question.timeZone) };
    });
}

type Tried = { readonly help: HelpKind; readonly plan: Plan; readonly ground: Ground };

function openings(question: PromiseQuestion): readonly Tried[] {
  const { board, extraOpenings = [] } = question;
  return extraOpenings.flatMap((opening) =>
    triedOn(
      { ...board, openings: joined([...board.openings, opening.span]) },
      { kind: "OPEN", opening },
      question,
    ),
  );
}

function changes(question: PromiseQuestion, byMs: number): readonly Tried[] {
  const supplies = tanksForOwnSupply(question, byMs).map((tankId) => ({
    kind: "SUPPLY" as const,
    tankId,
  }));
  return [...supplies, { kind: "HANDS" as const }].flatMap((change) =>
    triedOn(changedBoard(question.board, change), change, question),
  );
}

/**
 * The tanks that share a supply and might help with one of their own. If supplies without end would not bring the part
 * forward, no second supply does; and for a single dip, only where it would in a tank that hung on the same one.
 */
function tanksForOwnSupply({ board, loads, part }: PromiseQuestion, byMs: number): string[] {
  const endless = board.supplies.map((supply) => ({ ...supply, ratingA: MOST_A }));
  const plans = plansByTank(new Ground({ ...board, supplies: endless }, loads, part), part);
  const gaining = plans.filter(({ doneMs }) => doneMs <= byMs);
  const supplyOf = new Map(board.tanks.map(({ id, supplyId }) => [id, supplyId]));
  const short = new Set(gaining.map(({ loads: [first] }) => supplyOf.get(first.tankId)));
  const users = (supplyId: string): number =>
    board.tanks.filter((tank) => tank.supplyId === supplyId).length;
  return board.tanks
    .filter(({ id }) => part.dips.some(({ tanks }) => tanks.has(id)))
    .filter(({ supplyId }) => users(supplyId) > 1)
    .filter(({ supplyId }) => gaining.length > 0 && (part.dips.length > 1 || short.has(supplyId)))
    .map(({ id }) => id);
}

function shared(question: PromiseQuestion, ground: Ground, byMs: number): readonly Tried[] {
  const found = sharing(question, ground, byMs);
  return found ? [{ help: { kind: "SHARE", moved: found.moved }, plan: found.plan, ground }] : [];
}

function triedOn(board: Board, help: HelpKind, { loads, part }: PromiseQuestion): readonly Tried[] {
  const ground = new Ground(board, loads, part);
  const plan = bestPlan(ground, part);
  return plan ? [{ help, plan, ground }] : [];
}

function gainOf(
  slot: PromisedSlot,
  before: Plan | null,
  timeZone: string,
): Pick<Help, "gainedHours" | "gainedDays"> {
  if (!before) return { gainedHours: null, gainedDays: null };
  const from = Temporal.PlainDate.from(slot.day);
  return {
    gainedHours: (before.doneMs - slot.doneMs) / MS_PER_HOUR,
    gainedDays: from.until(dayAt(before.doneMs, timeZone), { largestUnit: "days" }).days,
  };
}

function checkQuestion({ part, medianShare }: PromiseQuestion): void {
  if (medianShare !== undefined) {
    checkRange("share of P50 in P90", medianShare, Number.MIN_VALUE, 1, "");
  }
  const [first, second] = part.dips;
  if (second && second.afterId !== first.id) {
    throw new RangeError(
      `the second dip must wait for ${first.id}, got ${second.afterId ?? "no dip to wait for"}`,
    );
  }
}
