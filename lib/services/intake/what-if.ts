import { type Actor, requirePermission } from "@/lib/access";
import { findPart, findShop, listSupplies, reading } from "@/lib/data";
import { SALT_GRADES, type Supply } from "@/lib/electrolysis";
import { startWhatIf, type WhatIfStart } from "@/lib/treatment";
import { hoursFor, hoursHistory } from "../learning/hours";
import { learnTanks, measuredOf } from "../learning/tanks";
import { sensible } from "../sensible";
import { electricSupply, tankOption } from "../tanks/shape";

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
    const plan = part?.plan;
    if (!part || !plan) return null;
    const [shop, supplies, tanks, { learned }] = await Promise.all([
      findShop(db),
      listSupplies(db),
      learnTanks(db),
      hoursHistory(db),
    ]);
    const own = tanks.find(({ tank }) => tank.id === plan.tankId);
    const supplyId = own?.tank.supplyId;
    if (!own || !supplyId) return null;
    const start = sensible(() =>
      startWhatIf(
        descriptionOf(part),
        { ...tankOption(own.tank), measured: measuredOf(own) },
        {
          temperatureC: shop?.workshopTempC ?? 18,
          roomVolumeM3: shop?.roomVolumeM3 ?? 60,
          humidityPercent: shop?.humidityPercent ?? 60,
          saltGrade:
            SALT_GRADES.find((grade) => grade === plan.result.saltGrade) ?? "SODA_ASH_LIGHT",
        },
        hoursFor(learned, part),
      ),
    );
    if (typeof start === "string") return null;
    return {
      start,
      supplies: supplies.map((row) => ({
        id: row.id,
        name: row.name,
        supply: electricSupply(row),
      })),
      supplyId,
    };
  });
}

/** Only what the models need of a part: the rest is not sent to a browser. */
function descriptionOf(part: WhatIfStart["part"]): WhatIfStart["part"] {
  return {
    quantity: part.quantity,
    shape: part.shape,
    lengthMm: part.lengthMm,
    widthMm: part.widthMm,
    heightMm: part.heightMm,
    wallMm: part.wallMm,
    massG: part.massG,
    areaOverrideM2: part.areaOverrideM2,
    material: part.material,
    hardnessHrc: part.hardnessHrc,
    tensileMpa: part.tensileMpa,
    rustGrade: part.rustGrade,
    coatings: part.coatings,
    hazards: part.hazards,
    goal: part.goal,
  };
}
