import { type Actor, requirePermission } from "@/lib/access";
import {
  findSupply,
  insertSupply,
  inTransaction,
  listSupplies,
  reading,
  recordAudit,
  setSupplyRetired,
  type SupplyDescription,
  type SupplyRow,
  updateSupply,
} from "@/lib/data";
import { checkSupply } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { sensible } from "../sensible";
import { electricSupply } from "./shape";

/** The supplies in use with the tanks they drive. @throws Refusal not-allowed */
export async function seeSupplies(actor: Actor): Promise<readonly SupplyRow[]> {
  requirePermission(actor, "see-shop");
  return reading((db) => listSupplies(db));
}

/** @throws Refusal not-allowed | not-found */
export async function seeSupply(actor: Actor, supplyId: string): Promise<SupplyRow> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const supply = await findSupply(db, supplyId);
    if (!supply) throw new Refusal("not-found", "This supply is not in the shop.");
    return supply;
  });
}

/** @returns its id. @throws Refusal not-allowed | invalid | conflict (another supply has the name) */
export async function addSupply(
  actor: Actor,
  supply: SupplyDescription,
  now: Date,
): Promise<string> {
  requirePermission(actor, "set-up-tanks");
  check(supply);
  return inTransaction(async (db) => {
    const id = await insertSupply(db, supply, now);
    const detail = { name: supply.name };
    await recordAudit(db, {
      actor,
      at: now,
      action: "supply.added",
      subjectType: "supply",
      subjectId: id,
      detail,
    });
    return id;
  });
}

/** @throws Refusal not-allowed | not-found | invalid | conflict */
export async function changeSupply(
  actor: Actor,
  supplyId: string,
  supply: SupplyDescription,
  now: Date,
): Promise<void> {
  requirePermission(actor, "set-up-tanks");
  check(supply);
  await inTransaction(async (db) => {
    if (!(await findSupply(db, supplyId))) {
      throw new Refusal("not-found", "This supply is not in the shop.");
    }
    await updateSupply(db, supplyId, supply);
    const detail = { name: supply.name };
    await recordAudit(db, {
      actor,
      at: now,
      action: "supply.changed",
      subjectType: "supply",
      subjectId: supplyId,
      detail,
    });
  });
}

/** Takes a supply that drives no tank out of use. @throws Refusal not-allowed | not-found | conflict */
export async function retireSupply(actor: Actor, supplyId: string, now: Date): Promise<void> {
  requirePermission(actor, "set-up-tanks");
  await inTransaction(async (db) => {
    const supply = await findSupply(db, supplyId);
    if (!supply) throw new Refusal("not-found", "This supply is not in the shop.");
    const driven = supply.tanks.map(({ name }) => name);
    if (driven.length > 0) {
      throw new Refusal(
        "conflict",
        `It still drives ${driven.join(" and ")}. Give ${driven.length > 1 ? "them" : "it"} another supply first.`,
      );
    }
    await setSupplyRetired(db, supplyId, now);
    const detail = { name: supply.name };
    await recordAudit(db, {
      actor,
      at: now,
      action: "supply.retired",
      subjectType: "supply",
      subjectId: supplyId,
      detail,
    });
  });
}

function check(supply: SupplyDescription): void {
  const fields: Record<string, string> = {};
  if (supply.name.trim() === "") fields["name"] = "Give it a name people say.";
  if (!(supply.efficiency > 0 && supply.efficiency <= 1)) {
    fields["efficiency"] = "Above 0 and at most 100 %.";
  }
  if (supply.kind === "BATTERY" && !(supply.capacityAh !== null && supply.capacityAh > 0)) {
    fields["capacityAh"] = "A battery needs its capacity.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
  sensible(() => {
    checkSupply(electricSupply({ ...supply, id: "", createdAt: new Date(0), retiredAt: null }));
  });
}
