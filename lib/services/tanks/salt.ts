import type { Actor } from "@/lib/access";
import { type Db, findItem, listLiveRuns, type TankRow } from "@/lib/data";
import {
  anhydrousMass,
  bathConductivity,
  type BathContents,
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
  /** g, above 0 */
  readonly massG: number;
};

export type KnownSalt = SaltUse & { readonly grade: SaltGrade };

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
  if (!(use.massG > 0))
    throw new Refusal("invalid", "Weigh in more than 0 g.", { saltG: "Above 0 g." });
  return { ...use, grade };
}

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

/** Takes the salt out of stock, on the tank and, while one is in it, on the run. */
export async function takeSalt(
  db: Db,
  use: {
    readonly actor: Actor;
    readonly at: Date;
    readonly tank: TankRow;
    readonly salt: KnownSalt;
    readonly note: string;
    readonly idempotencyKey: string;
  },
): Promise<void> {
  const live = await listLiveRuns(db, use.tank.id);
  const running = live.find((run) => run.state === "RUNNING");
  await consumeStock(db, {
    itemId: use.salt.itemId,
    quantity: use.salt.massG,
    at: use.at,
    runId: running?.id,
    tankId: use.tank.id,
    note: use.note,
    enteredById: use.actor.personId,
    idempotencyKey: use.idempotencyKey,
  });
}
