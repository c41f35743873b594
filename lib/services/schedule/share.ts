import type { TankRow } from "@/lib/data";
import { continuousRating } from "@/lib/electrolysis";
import type { Board, TankNeeds } from "@/lib/scheduling";
import { layOut, type PartToHang } from "../runs/layout";
import { loadPlan, type PlanInLoad } from "../runs/needs";
import { electricSupply } from "../tanks";

/** Hours of one load agree when the longest is no more than so many times the shortest: what is clean early waits. */
const HOURS_RATIO = 1.5;

/** One dip as sharing a load goes: plain data, so that a thread can be given it. */
export type DipToShare = {
  readonly id: string;
  readonly end: number;
  readonly goal: string;
  readonly part: Omit<PartToHang, "plan">;
  /** its plan in each tank that takes it */
  readonly plans: ReadonlyMap<string, PlanInLoad & { readonly saltGrade: string }>;
};

/**
 * Whether dips may share a load in a tank, and what they ask of it then: goal, salt and hours agree, every piece hangs
 * clear, and the supply carries them. Answers are remembered: a search asks the same over and over.
 */
export function sharingOf(dips: readonly DipToShare[], tanks: readonly TankRow[]): Board["share"] {
  const byId = new Map(dips.map((dip) => [dip.id, dip]));
  const tankById = new Map(tanks.map((tank) => [tank.id, tank]));
  const known = new Map<string, TankNeeds | null>();
  return (tankId, dipIds) => {
    const key = `${tankId} ${[...dipIds].sort().join(" ")}`;
    const answer = known.get(key);
    if (answer !== undefined) return answer;
    const tank = tankById.get(tankId);
    const together = dipIds.flatMap((id) => byId.get(id) ?? []);
    const found = tank && together.length === dipIds.length ? needsOf(tank, together) : null;
    known.set(key, found);
    return found;
  };
}

function needsOf(tank: TankRow, dips: readonly DipToShare[]): TankNeeds | null {
  const planned = dips.flatMap(({ plans, ...dip }) => {
    const plan = plans.get(tank.id);
    return plan ? [{ ...dip, plan }] : [];
  });
  const parts = new Set(dips.map(({ part }) => part.id));
  if (planned.length < dips.length || parts.size < dips.length || !tank.supply) return null;
  if (dips.length > 1 && !agree(planned)) return null;
  const load = loadPlan(
    planned.map(({ part, end, plan }) => ({
      partId: part.id,
      end,
      pieces: part.quantity,
      plan,
    })),
    tank,
  );
  const needs = { hours: load.hours, currentA: load.expectedCurrentA };
  if (dips.length === 1) return needs;
  if (needs.currentA > continuousRating(electricSupply(tank.supply))) return null;
  const layout = layOut(
    planned.map(({ part, plan }) => ({ ...part, plan })),
    tank,
  );
  return layout?.packing.packed ? needs : null;
}

type Planned = Omit<DipToShare, "plans"> & {
  readonly plan: PlanInLoad & { readonly saltGrade: string };
};

function agree(dips: readonly Planned[]): boolean {
  const hours = dips.map(({ plan }) => plan.hoursP90 / plan.dipCount);
  return (
    new Set(dips.map(({ goal }) => goal)).size === 1 &&
    new Set(dips.map(({ plan }) => plan.saltGrade)).size === 1 &&
    Math.max(...hours) <= HOURS_RATIO * Math.min(...hours)
  );
}
