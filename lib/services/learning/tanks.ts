import { type Db, listMeteredLoads, listTanks, type MeteredLoad, type TankRow } from "@/lib/data";
import {
  anodeBetween,
  bathConductivity,
  CATHODE,
  CLOSED_FORM_ERROR_SHARE,
  overvoltage,
} from "@/lib/electrolysis";
import { type LearnedResistance, learnResistance, type LoadAtMeter } from "@/lib/learning";
import { volumeAt } from "@/lib/tanks";
import { cellOf, type ReadyTank, type TankMeasured } from "@/lib/treatment";
import { amperesPerSquareMetre, millimetres } from "@/lib/units";
import { fieldTimesOf } from "../tanks/field-times";
import { tankOption } from "../tanks/shape";

/** Clamps and baths change: what a tank did long ago says little of today. */
const NEWEST_LOADS = 30;
/** Fewer loads than this do not move a plan. */
const LEAST_LOADS = 3;
/** Contacts entered as none at all still have something: assumption, Ω. */
const LEAST_CONTACT_OHM = 0.005;
/** Readings below this show that no current flowed, not how well it would, A. */
const LEAST_CURRENT_A = 0.1;

export type LearnedTank = { readonly tank: TankRow; readonly learned: LearnedResistance };

/** Contacts and bath of every tank in use, from its loads' readings. */
export async function learnTanks(db: Db): Promise<readonly LearnedTank[]> {
  const tanks = await listTanks(db);
  const loads = await listMeteredLoads(
    db,
    tanks.map(({ id }) => id),
    NEWEST_LOADS,
  );
  return tanks.map((tank) => ({
    tank,
    learned: learnResistance(
      {
        contactOhm: Math.max(LEAST_CONTACT_OHM, tank.contactOhm),
        bathFactorP90: 1 + CLOSED_FORM_ERROR_SHARE,
      },
      loads.filter(({ tankId }) => tankId === tank.id).flatMap((load) => atMeter(tank, load) ?? []),
    ),
  }));
}

/** What plans take from it; undefined while too few loads were read. */
export function measuredOf({ learned }: LearnedTank): TankMeasured | undefined {
  if (learned.loads < LEAST_LOADS) return undefined;
  return {
    contactOhm: learned.contactOhm(0.5),
    bathFactor: learned.bathFactor(0.5),
    bathFactorErrorShare: Math.sqrt(learned.bathFactor(0.9) / learned.bathFactor(0.1)) - 1,
    loads: learned.loads,
  };
}

/** A load's volts less what reactions and leads take by the model, and the bath the model gives it. */
function atMeter(tank: TankRow, load: MeteredLoad): LoadAtMeter | null {
  const ready = readyTank(tank);
  const flowed = load.readings.filter(({ currentA }) => currentA >= LEAST_CURRENT_A);
  const conductivity = conductivityOf(load);
  if (!ready || flowed.length === 0 || conductivity === null) return null;
  const mean = (value: (reading: MeteredLoad["readings"][number]) => number): number =>
    flowed.reduce((sum, reading) => sum + value(reading), 0) / flowed.length;
  const currentA = mean((reading) => reading.currentA);
  const volumeL = volumeAt(ready.shape, millimetres(tank.workingLevelMm));
  const fieldTimes = fieldTimesOf(load.dips);
  const cell = cellOf({ ...ready, fieldTimes }, load.areaM2, volumeL);
  const anode = anodeBetween(ready.anode.lossFactor);
  const reactionsV =
    anode.reversibleV +
    overvoltage(amperesPerSquareMetre(currentA / load.areaM2), CATHODE) +
    overvoltage(amperesPerSquareMetre(currentA / ready.anode.areaM2), anode);
  return {
    currentA,
    leftV: mean((reading) => reading.voltsV) - reactionsV - currentA * cell.leadOhm,
    bathOhm: 1 / (conductivity * cell.shapeLengthM),
  };
}

function readyTank(tank: TankRow): ReadyTank | null {
  const option = tankOption(tank);
  if (!option.anode || !option.supply) return null;
  return { ...option, anode: option.anode, supply: option.supply };
}

/** κ of a load's bath as the books have it, at the mean temperature read; null where the tables do not reach. */
function conductivityOf({ bath, readings }: MeteredLoad): number | null {
  const warm = readings.flatMap(({ temperatureC }) => temperatureC ?? []);
  const temperatureC =
    warm.length > 0 ? warm.reduce((sum, value) => sum + value, 0) / warm.length : bath.temperatureC;
  try {
    return bathConductivity({
      carbonateMassG: bath.carbonateG,
      bicarbonateMassG: bath.bicarbonateG,
      volumeL: bath.volumeL,
      temperatureC,
    });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
