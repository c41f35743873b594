import { type Actor, requirePermission } from "@/lib/access";
import { findPart, listSupplies, reading } from "@/lib/data";
import { type Supply } from "@/lib/electrolysis";
import type { WhatIfStart } from "@/lib/treatment";
import { electricSupply } from "../tanks/shape";
import { plannedStart } from "./planned-start";

/** What a person tries other settings with: plain data for a browser. */
export type WhatIf = {
  readonly start: WhatIfStart;
  readonly supplies: readonly {
    readonly id: string;
    readonly name: string;
    readonly supply: Supply;
  }[];
  /** of `supplies`, the one that drives the tank */
  readonly supplyId: string;
};

/**
 * The planned part in its tank as that stands now, and every supply it could be driven by.
 *
 * @returns null where there is no plan, or the tank no longer takes the part: then it must be planned anew
 * @throws Refusal not-allowed
 */
export async function whatIf(actor: Actor, partId: string): Promise<WhatIf | null> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const part = await findPart(db, partId);
    if (!part) return null;
    const [supplies, planned] = await Promise.all([listSupplies(db), plannedStart(db, part)]);
    if (planned === null || typeof planned === "string") return null;
    const { start, tank } = planned;
    if (!tank.supplyId) return null;
    return {
      start,
      supplies: supplies.map((row) => ({
        id: row.id,
        name: row.name,
        supply: electricSupply(row),
      })),
      supplyId: tank.supplyId,
    };
  });
}
