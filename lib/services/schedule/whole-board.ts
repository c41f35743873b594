import type { Db, PartRow } from "@/lib/data";
import { planColumns, type Planner, plannerOf } from "../intake/planner";
import { gradeOf, partsOf } from "../runs/other-tank";
import { readShopBoard, type ShopBoard } from "./board-rows";
import { type OpenDip, openDips, type PlanInTank, type Problem, problemOf } from "./problem";
import { sharingOf } from "./share";

export type WholeBoard = { readonly shop: ShopBoard; readonly problem: Problem };

export type BoardWishes = {
  /** parts that wait for a tank are placed too */
  readonly withWaiting: boolean;
  /** loads may go to other tanks than their plans name; their parts are then planned anew */
  readonly otherTanks: boolean;
};

/** The whole board as a problem: what may move, what waits, and which tanks take it. */
export async function wholeBoard(db: Db, wishes: BoardWishes, now: Date): Promise<WholeBoard> {
  const shop = await readShopBoard(db, now);
  const planned = openDips(shop, wishes.withWaiting ? shop.waiting : []);
  const dips = wishes.otherTanks ? await inOtherTanks(db, shop, planned) : planned;
  const share = sharingOf(dips, shop.tanks);
  const problem = problemOf(shop, dips, (dip, tankId) => share(tankId, [dip.id]));
  return { shop, problem };
}

async function inOtherTanks(
  db: Db,
  shop: ShopBoard,
  dips: readonly OpenDip[],
): Promise<readonly OpenDip[]> {
  const planner = await plannerOf(db);
  const parts = await partsOf(
    db,
    dips.map(({ part }) => part.id),
  );
  return dips.map((dip) => {
    const row = parts.get(dip.part.id);
    const own = dip.plans.get(dip.plannedTankId);
    // Both ends of a part go in one tank.
    if (!row || !own || own.dipCount > 1) return dip;
    return { ...dip, plans: everywhere(planner, shop, row, { dip, own }) };
  });
}

function everywhere(
  planner: Planner,
  { tanks, tight }: ShopBoard,
  row: PartRow,
  { dip, own }: { readonly dip: OpenDip; readonly own: PlanInTank },
): ReadonlyMap<string, PlanInTank> {
  const plans = new Map(dip.plans);
  for (const { id } of tanks) {
    if (plans.has(id) || tight.has(id)) continue;
    const answer = planner.planIn(row, id, { saltGrade: gradeOf(own.saltGrade) });
    if (typeof answer !== "string" && answer.dips === 1) {
      plans.set(id, { id: "", ...planColumns(answer) });
    }
  }
  return plans;
}
