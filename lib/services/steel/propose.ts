import { type Actor, requirePermission } from "@/lib/access";
import { type Db, findTank, reading, type SectionRow, type TankRow } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import {
  type AnodePieces,
  type CuttingAnswer,
  cuttingProofText,
  workedAnodeArea,
  workedAnodeMass,
} from "@/lib/stock";
import type { Worked } from "@/lib/units";
import { inThread } from "../threads/thread";
import { type AnodeWish, piecesFor } from "./pieces";
import { type LotOnRack, problemOf, seeRack } from "./rack";
import { requireSection, requireSteel } from "./section";

/** How a proposed anode would be cut from what lies on the rack. */
export type ProposedCut = {
  readonly tank: { readonly id: string; readonly name: string };
  readonly section: SectionRow;
  readonly pieces: AnodePieces;
  readonly mass: Worked;
  readonly area: Worked;
  readonly answer: CuttingAnswer;
  /** how far to trust the plan */
  readonly proof: string;
  readonly rack: readonly LotOnRack[];
};

/** s that a person waits for a proof. */
const PATIENCE_S = 6;

/**
 * Works out the pieces for an anode and the best way to cut them. Nothing is written or held: by the time it is cut the
 * rack may be another, which `cutSteel` then says.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function proposeCut(actor: Actor, wish: AnodeWish): Promise<ProposedCut> {
  requirePermission(actor, "see-shop");
  const { tank, section, rack } = await reading(async (db) => {
    const wanted = await wantedFor(db, wish);
    return { ...wanted, rack: await seeRack(db, wanted.section) };
  });
  const pieces = piecesFor(section, tank, wish);
  const problem = problemOf(rack, section, pieces);
  const answer = await inThread(
    "cutting",
    { problem, timeLimitS: PATIENCE_S },
    { mostMs: 4000 * PATIENCE_S },
  );
  return {
    tank: { id: tank.id, name: tank.name },
    section,
    pieces,
    mass: workedAnodeMass(section, pieces),
    area: workedAnodeArea(section, pieces),
    answer,
    proof: cuttingProofText(answer),
    rack,
  };
}

/**
 * Whether a wish can be planned at all, told before anybody searches for a plan.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function checkWish(actor: Actor, wish: AnodeWish): Promise<void> {
  requirePermission(actor, "see-shop");
  const { tank, section } = await reading((db) => wantedFor(db, wish));
  piecesFor(section, tank, wish);
}

/** Tank and section of a wish. @throws Refusal not-found | conflict */
export async function wantedFor(
  db: Db,
  { tankId, itemId }: Pick<AnodeWish, "tankId" | "itemId">,
): Promise<{ readonly tank: TankRow; readonly section: SectionRow }> {
  const tank = await findTank(db, tankId);
  if (!tank || tank.retiredAt) throw new Refusal("not-found", "This tank is not in use.");
  await requireSteel(db, itemId);
  return { tank, section: await requireSection(db, itemId) };
}
