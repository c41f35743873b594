import { type Db, findShop, type PartRow } from "@/lib/data";
import { SALT_GRADES } from "@/lib/electrolysis";
import { startWhatIf, type WhatIfStart } from "@/lib/treatment";
import { currentFindings } from "../fields/current";
import { fromDrawing } from "../fields/from-drawing";
import { hoursFor, hoursHistory } from "../learning/hours";
import { type LearnedTank, learnTanks, measuredOf } from "../learning/tanks";
import { sensible } from "../sensible";
import { tankOption } from "../tanks/shape";

export type PlannedStart = { readonly start: WhatIfStart; readonly tank: LearnedTank["tank"] };

/**
 * A planned part in its tank as that stands now.
 *
 * @returns null where there is no plan or its tank is gone; in words why the tank no longer takes the part
 * @throws Refusal invalid, naming a measure that is out of range
 */
export async function plannedStart(db: Db, part: PartRow): Promise<PlannedStart | string | null> {
  const { plan } = part;
  if (!plan) return null;
  // One after the other: a transaction is one connection.
  const shop = await findShop(db);
  const tanks = await learnTanks(db);
  const { learned } = await hoursHistory(db);
  const own = tanks.find(({ tank }) => tank.id === plan.tankId);
  if (!own) return null;
  const current = await currentFindings(db, part.id);
  const field = current?.tankId === own.tank.id ? current.findings : undefined;
  const start = sensible(() =>
    startWhatIf(
      descriptionOf(part),
      { ...tankOption(own.tank), measured: measuredOf(own), field },
      {
        temperatureC: shop?.workshopTempC ?? 18,
        roomVolumeM3: shop?.roomVolumeM3 ?? 60,
        humidityPercent: shop?.humidityPercent ?? 60,
        saltGrade: SALT_GRADES.find((grade) => grade === plan.result.saltGrade) ?? "SODA_ASH_LIGHT",
      },
      hoursFor(learned, part),
      Boolean(plan.result.innerAnode),
    ),
  );
  return typeof start === "string" ? start : { start, tank: own.tank };
}

/** Only what the models need of a part: the rest is not sent to a browser. */
function descriptionOf(part: PartRow): WhatIfStart["part"] {
  return {
    quantity: part.quantity,
    shape: part.shape,
    lengthMm: part.lengthMm,
    widthMm: part.widthMm,
    heightMm: part.heightMm,
    wallMm: part.wallMm,
    massG: part.massG,
    areaOverrideM2: part.areaOverrideM2,
    fromDrawing: fromDrawing(part),
    material: part.material,
    hardnessHrc: part.hardnessHrc,
    tensileMpa: part.tensileMpa,
    rustGrade: part.rustGrade,
    coatings: part.coatings,
    hazards: part.hazards,
    goal: part.goal,
  };
}
