import type { Actor } from "@/lib/access";
import { addToBath, type Db, findItem, listLiveRuns, type TankRow } from "@/lib/data";
import {
  anhydrousMass,
  bathConductivity,
  type BathContents,
  fromKitchen,
  SALT_GRADE_FACTS,
  SALT_GRADES,
  type SaltGrade,
} from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { grams } from "@/lib/units";
import { sensible } from "../sensible";
import { consumeStock } from "../stock";

/** Salt as bought, taken from stock. */
export type SaltUse = {
  /** an item of kind salt */
  readonly itemId: string;
} & SaltAmount;

/** Weighed, g, above 0; or told by the cup or spoon, L as poured, which may be a third off. */
export type SaltAmount = { readonly massG: number } | { readonly powderL: number };

export type KnownSalt = {
  readonly itemId: string;
  readonly massG: number;
  readonly grade: SaltGrade;
};

/** What the stock item is made of. @throws Refusal not-found | invalid where it is not a salt */
export async function saltOf(db: Db, use: SaltUse): Promise<KnownSalt> {
  const item = await findItem(db, use.itemId);
  if (!item) throw new Refusal("not-found", "This salt is not in the stock list.");
  const grade = SALT_GRADES.find((known) => known === item.saltGrade);
  if (item.kind !== "SALT" || !grade) {
    throw new Refusal(
      "invalid",
      `${item.name} is not a soda that this shop knows. Never use table salt: it makes chlorine.`,
      { saltItemId: "Choose a soda." },
    );
  }
  const massG = "massG" in use ? use.massG : poured(grade, use.powderL);
  if (!(massG > 0))
    throw new Refusal("invalid", "Weigh in more than nothing.", { saltG: "Above 0." });
  return { itemId: use.itemId, massG, grade };
}

/** g of a grade in so many litres of it, level. */
const poured = (grade: SaltGrade, powderL: number): number =>
  sensible(() => fromKitchen(grade, 1000 * powderL, "MILLILITRE").massG);

/**
 * What a bath holds once salt is in.
 *
 * @throws Refusal invalid where it would be stronger than dissolves or than the tables know
 */
export function contentsWith(
  bath: { readonly carbonateG: number; readonly bicarbonateG: number },
  salt: KnownSalt | null,
  volumeL: number,
  temperatureC: number,
): BathContents {
  const addedG = salt ? anhydrousMass(salt.grade, grams(salt.massG)) : 0;
  const carbonate = salt !== null && SALT_GRADE_FACTS[salt.grade].salt === "SODIUM_CARBONATE";
  const contents = {
    carbonateMassG: bath.carbonateG + (carbonate ? addedG : 0),
    bicarbonateMassG: bath.bicarbonateG + (carbonate ? 0 : addedG),
    volumeL,
    temperatureC,
  };
  if (salt) sensible(() => bathConductivity(contents));
  return contents;
}

/**
 * Writes what goes into a bath, and takes its salt out of stock: on the tank and, while one is in it, on the run.
 *
 * @param addition `id` is the caller's idempotency key; `gained` is what the bath then holds more
 */
export async function pour(
  db: Db,
  addition: {
    readonly id: string;
    readonly actor: Actor;
    readonly at: Date;
    readonly tank: TankRow;
    readonly bathId: string;
    readonly waterL: number;
    readonly salt: KnownSalt | null;
    readonly note: string;
    readonly gained: Parameters<typeof addToBath>[2];
  },
): Promise<void> {
  const { id, actor, at, tank, bathId, waterL, salt, note, gained } = addition;
  const saltWritten = { saltGrade: salt?.grade ?? null, saltG: salt?.massG ?? 0 };
  await addToBath(db, { id, bathId, at, waterL, note, ...saltWritten }, gained);
  if (!salt) return;
  const live = await listLiveRuns(db, tank.id);
  await consumeStock(db, {
    itemId: salt.itemId,
    quantity: salt.massG,
    at,
    runId: live.find((run) => run.state === "RUNNING")?.id,
    tankId: tank.id,
    note: `soda for ${tank.name}`,
    enteredById: actor.personId,
    idempotencyKey: id,
  });
}
