import { type Actor, requirePermission } from "@/lib/access";
import {
  type BookablePart,
  type Db,
  findBookableParts,
  findPart,
  listPartsAwaitingTank,
  type PartRow,
  reading,
  type StoredPlan,
  type TankRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Board, type BoardLoad, type LoadTimes, timelineOf, timesOf } from "@/lib/scheduling";
import { endOfDay } from "../calendar";
import { planColumns, type Planner, plannerOf } from "../intake/planner";
import { otherEndWaits } from "../runs/needs";
import { gradeOf } from "../runs/other-tank";
import { workingHours } from "../working-hours";
import { readShopBoard, type ShopBoard } from "./board-rows";
import { type OpenDip, openDips, type PlanInTank, problemOf, waitingDips } from "./problem";
import { sharingOf } from "./share";

/** Offered of each tank: one an opening. */
const SLOTS_A_TANK = 4;

/** A part that waits for a tank, as a list to choose from has it. */
export type WaitingPart = {
  readonly partId: string;
  readonly mark: string;
  readonly description: string;
  readonly jobNumber: number;
  readonly rush: boolean;
  /** end of the promised day, epoch ms */
  readonly dueMs: number | null;
  readonly plannedTankId: string;
};

/** Parts that wait for a tank, rush jobs first, then by promise. @throws Refusal not-allowed */
export async function waitingParts(actor: Actor, now: Date): Promise<readonly WaitingPart[]> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { timeZone } = await workingHours(db, now);
    const parts = (await listPartsAwaitingTank(db)).flatMap((part) => {
      if (!part.plan) return [];
      const { promisedFor, number, rush } = part.job;
      return [
        {
          partId: part.id,
          mark: part.mark,
          description: part.description,
          jobNumber: number,
          rush,
          dueMs: promisedFor && endOfDay(promisedFor, timeZone).getTime(),
          plannedTankId: part.plan.tankId,
        },
      ];
    });
    return parts.sort((a, b) => Number(b.rush) - Number(a.rush));
  });
}

/** The first free times of one tank for a part. */
export type TankSlots = {
  readonly tankId: string;
  readonly tankName: string;
  /** its plan is for this tank: it can be booked as it is */
  readonly planned: boolean;
  /** why this tank does not take it; null where it does */
  readonly why: string | null;
  readonly hours: number;
  readonly currentA: number;
  readonly slots: readonly LoadTimes[];
};

/**
 * The first free times for a part in every tank, within hours, hands and supplies.
 *
 * @throws Refusal not-allowed | not-found | conflict where it does not wait for a tank
 */
export async function freeSlots(
  actor: Actor,
  partId: string,
  now: Date,
): Promise<readonly TankSlots[]> {
  requirePermission(actor, "book");
  return reading(async (db) => {
    const { board, loads, dip, why, planned } = await problemForPart(db, partId, now);
    const timeline = timelineOf(board, loads);
    const benchMinutes = board.dips.find(({ id }) => id === dip.id)?.benchMinutes ?? 0;
    return planned.tanks.map((tank) => {
      const needs = board.dips.find(({ id }) => id === dip.id)?.tanks.get(tank.id);
      const common = { tankId: tank.id, tankName: tank.name, planned: tank.id === planned.tankId };
      if (!needs) {
        return { ...common, why: why.get(tank.id) ?? noSupply, hours: 0, currentA: 0, slots: [] };
      }
      const slots: LoadTimes[] = [];
      const at = timeline.tankAt(tank.id);
      let fromMs = Math.max(board.nowMs, dip.releaseMs);
      while (slots.length < SLOTS_A_TANK) {
        const stretch = timeline.earliest(at, needs, benchMinutes, timeline.stepAt(fromMs));
        if (!stretch) break;
        const times = timesOf(board, timeline, stretch, benchMinutes);
        slots.push(times);
        fromMs = nextOpening(board.openings, times.startsAtMs);
      }
      return { ...common, why: null, ...needs, slots };
    });
  });
}

const noSupply = "It has no supply.";

const nextOpening = (openings: Board["openings"], afterMs: number): number =>
  openings.find(({ fromMs }) => fromMs > afterMs)?.fromMs ?? Number.MAX_SAFE_INTEGER;

export type PartProblem = {
  readonly board: Board;
  readonly loads: readonly BoardLoad[];
  /** its next dip */
  readonly dip: OpenDip;
  readonly dips: readonly OpenDip[];
  /** by tank, why it does not take the part */
  readonly why: ReadonlyMap<string, string>;
  readonly planned: {
    readonly part: BookablePart;
    readonly tankId: string;
    readonly tanks: readonly TankRow[];
  };
  readonly shop: ShopBoard;
};

/** The board with one part to place on it, planned for every tank that takes it. Reads at once: not for a transaction. */
export async function problemForPart(db: Db, partId: string, now: Date): Promise<PartProblem> {
  const [[part], row, shop, planner] = await Promise.all([
    findBookableParts(db, [partId]),
    findPart(db, partId),
    readShopBoard(db, now),
    plannerOf(db),
  ]);
  if (!part || !row) throw new Refusal("not-found", "This part is not in the shop.");
  const { plan } = part;
  if (!plan || !(part.state === "PLANNED" || otherEndWaits(part))) {
    throw new Refusal("conflict", "This part does not wait for a tank.");
  }
  const { plans, why } = plansInTanks(shop, planner, row, plan);
  const dips = waitingDips(part).map((dip) => ({ ...dip, plans }));
  const [dip] = dips;
  if (!dip) throw new Refusal("conflict", "All its ends are done.");
  const all = [...openDips(shop, []), ...dips];
  const share = sharingOf(all, shop.tanks);
  const { board, loads } = problemOf({ ...shop, waiting: [part] }, all, (one, tankId) =>
    share(tankId, [one.id]),
  );
  const planned = { part, tankId: plan.tankId, tanks: shop.tanks };
  return { board: { ...board, share }, loads, dip, dips, why, planned, shop };
}

/** A part's plans in every tank that takes it in as many dips as its own plan has; in words why another does not. */
function plansInTanks(
  { tanks, tight }: ShopBoard,
  planner: Planner,
  row: PartRow,
  plan: StoredPlan,
): {
  readonly plans: ReadonlyMap<string, PlanInTank>;
  readonly why: ReadonlyMap<string, string>;
} {
  const why = new Map<string, string>();
  const plans = new Map<string, PlanInTank>([[plan.tankId, plan]]);
  for (const { id } of tanks) {
    if (id === plan.tankId) continue;
    const answer = planner.planIn(row, id, { saltGrade: gradeOf(plan.saltGrade) });
    if (typeof answer === "string") why.set(id, answer);
    else if (answer.dips !== plan.dipCount) {
      why.set(id, `It goes in ${answer.dips} times there, not ${plan.dipCount}.`);
    } else plans.set(id, { id: "", ...planColumns(answer) });
  }
  for (const id of tight) why.set(id, "Its bath or its anode bears no more: change it first.");
  return { plans, why };
}
