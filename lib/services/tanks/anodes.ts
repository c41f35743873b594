import { type Actor, requirePermission } from "@/lib/access";
import {
  type AnodeRow,
  type Db,
  endAnode,
  entriesUnderKey,
  findAnode,
  findCut,
  findItem,
  insertAnode,
  insertAnodeLots,
  insertWeighing,
  inTransaction,
  listLiveRuns,
  moveCut,
  type NewAnodeLot,
  recordAudit,
  setAnodeLossFactor,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { firstLoss, learnAnode } from "../learning/anodes";
import { consumeStock } from "../stock";

import { requireTank } from "./set-up";

export type AnodeToInstall = {
  readonly tankId: string;
  readonly place: "WALL" | "INNER";
  readonly name: string;
  /** g, weighed before it goes in, above 0 */
  readonly massG: number;
  /** m² that will face the bath, above 0 */
  readonly wettedAreaM2: number;
  /** share of the mass after which it is replaced, above 0 to 1 */
  readonly replaceAtShare: number;
  /** mm of a sheet when new, and the least it may wear to; null where its mass alone decides */
  readonly thickness: { readonly newMm: number; readonly leastMm: number } | null;
  /** cut from stock: an item of kind anode steel and how much of its unit; null for scrap of the shop's own */
  readonly steel: { readonly itemId: string; readonly quantity: number } | null;
  /** pieces that were sawn for it; its steel left stock then, and `steel` is null */
  readonly cutId?: string | null;
  /** also this installation's id, so that a repeat is told */
  readonly idempotencyKey: string;
};

/**
 * Hangs an anode in a tank, its steel out of stock.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | not-enough-stock
 */
export async function installAnode(actor: Actor, anode: AnodeToInstall, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  checkAnode(anode);
  await inTransaction(async (db) => {
    const tank = await requireTank(db, anode.tankId);
    if (await findAnode(db, anode.idempotencyKey)) return;
    await refuseWhileRunning(db, tank.id);
    const lots = await steelOf(db, actor, anode, now);
    const loss = firstLoss(tank.bath);
    await insertAnode(db, {
      id: anode.idempotencyKey,
      tankId: tank.id,
      place: anode.place,
      name: anode.name,
      installedAt: now,
      initialMassG: anode.massG,
      wettedAreaM2: anode.wettedAreaM2,
      replaceAtShare: anode.replaceAtShare,
      thicknessMm: anode.thickness?.newMm ?? null,
      leastThicknessMm: anode.thickness?.leastMm ?? null,
      lossFactor: loss.mean,
      lossFactorError: loss.error,
      costMinor: lots.reduce((sum, lot) => sum + lot.costMinor, 0),
      lotId: lots[0]?.lotId ?? null,
    });
    await insertAnodeLots(
      db,
      lots.map((lot) => ({ ...lot, anodeId: anode.idempotencyKey })),
    );
    await hang(db, anode);
    await audit(db, actor, now, "anode.installed", anode.idempotencyKey, { massG: anode.massG });
  });
}

/** Takes an anode out of its tank; its history stays. @throws Refusal not-allowed | not-found | conflict */
export async function removeAnode(actor: Actor, anodeId: string, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const { tankId } = await requireAnode(db, anodeId);
    await requireTank(db, tankId);
    await refuseWhileRunning(db, tankId);
    if (!(await endAnode(db, anodeId, now))) return; // taken out already: a repeat
    await audit(db, actor, now, "anode.removed", anodeId, {});
  });
}

/**
 * Writes what the scale says of an anode, brushed and dry, and learns from it how much of the charge dissolves iron.
 *
 * @param weighing massG 0 to the mass it came with plus the error; errorG above 0
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function weighAnode(
  actor: Actor,
  weighing: { readonly anodeId: string; readonly massG: number; readonly errorG: number },
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const { tankId } = await requireAnode(db, weighing.anodeId);
    // Under the tank's lock no pull can add wear between the reading of the history and the new factor.
    const { bath } = await requireTank(db, tankId);
    const anode = await requireAnode(db, weighing.anodeId);
    if (anode.removedAt) throw new Refusal("conflict", "This anode was taken out.");
    checkWeighing(anode, weighing);
    const last = anode.weighings[0];
    if (last?.massG === weighing.massG && now.getTime() - last.at.getTime() < 60_000) return; // a repeat
    await insertWeighing(db, { ...weighing, at: now, weighedById: actor.personId });
    const { mean, error } = learnAnode(anode, bath, [{ ...weighing, at: now }]);
    await setAnodeLossFactor(db, anode.id, { lossFactor: mean, lossFactorError: error });
    await audit(db, actor, now, "anode.weighed", anode.id, { massG: weighing.massG });
  });
}

function checkWeighing(
  anode: AnodeRow,
  { massG, errorG }: { readonly massG: number; readonly errorG: number },
): void {
  if (!(errorG > 0))
    throw new Refusal("invalid", "Every scale is off by something.", { errorG: "Above 0." });
  if (!(massG > 0 && massG <= anode.initialMassG + 3 * errorG)) {
    throw new Refusal("invalid", "That is not this anode's mass.", {
      massG: `Above 0 and at most the {${Math.round(anode.initialMassG)} g} it came with. Brush off sludge and dry it first.`,
    });
  }
}

type SteelOfLot = Omit<NewAnodeLot, "anodeId">;

/** The steel of an anode by lot, with what it cost: taken now, or when its pieces were sawn. */
async function steelOf(
  db: Db,
  actor: Actor,
  anode: AnodeToInstall,
  now: Date,
): Promise<readonly SteelOfLot[]> {
  if (anode.cutId) {
    const cut = await findCut(db, anode.cutId);
    if (cut?.tankId !== anode.tankId) {
      throw new Refusal("not-found", "These pieces were not cut for this tank.");
    }
    return lotsUnder(db, cut.id);
  }
  if (!anode.steel) return [];
  await takeSteel(db, actor, anode, anode.steel, now);
  return lotsUnder(db, anode.idempotencyKey);
}

const lotsUnder = async (db: Db, key: string): Promise<readonly SteelOfLot[]> =>
  (await entriesUnderKey(db, key)).map(({ lotId, quantity, costMinor }) => ({
    lotId,
    quantity: -quantity,
    costMinor: -costMinor || 0,
  }));

/** Of two who hang the same pieces, the conditional change lets one. */
async function hang(db: Db, { cutId, idempotencyKey: anodeId }: AnodeToInstall): Promise<void> {
  if (cutId && !(await moveCut(db, cutId, { state: "HUNG", anodeId }))) {
    throw new Refusal("conflict", "These pieces hang already, or their cut was taken back.");
  }
}

async function takeSteel(
  db: Db,
  actor: Actor,
  { tankId, name, idempotencyKey }: AnodeToInstall,
  steel: NonNullable<AnodeToInstall["steel"]>,
  now: Date,
): Promise<void> {
  const item = await findItem(db, steel.itemId);
  if (item?.kind !== "ANODE_STEEL") {
    throw new Refusal("invalid", "Only mild steel makes an anode here.", {
      steelItemId: "Never stainless: it puts chromium in the bath.",
    });
  }
  await consumeStock(db, {
    ...steel,
    at: now,
    tankId,
    note: `anode ${name}`,
    enteredById: actor.personId,
    idempotencyKey,
  });
}

async function refuseWhileRunning(db: Db, tankId: string): Promise<void> {
  const live = await listLiveRuns(db, tankId);
  if (live.some((run) => run.state === "RUNNING")) {
    throw new Refusal("conflict", "A load is in this tank. Switch off and pull it first.");
  }
}

async function requireAnode(db: Db, anodeId: string): Promise<AnodeRow> {
  const anode = await findAnode(db, anodeId);
  if (!anode) throw new Refusal("not-found", "This anode is not in the shop.");
  return anode;
}

function checkAnode(anode: AnodeToInstall): void {
  const { massG, wettedAreaM2, replaceAtShare, thickness, name } = anode;
  const fields: Record<string, string> = {};
  if (name.trim() === "") fields["name"] = "Say where it hangs or what it is.";
  if (!(massG > 0)) fields["massG"] = "Weigh it before it goes in.";
  if (!(wettedAreaM2 > 0)) fields["wettedAreaM2"] = "Above 0.";
  if (!(replaceAtShare > 0 && replaceAtShare <= 1)) fields["replaceAtShare"] = "Above 0 to 100 %.";
  if (thickness && !(thickness.leastMm >= 0 && thickness.leastMm < thickness.newMm)) {
    fields["leastThicknessMm"] = "Thinner than the sheet is when new.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, number>>,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "anode", subjectId, detail });
}
