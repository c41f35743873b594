import { NO_HISTORY, type RunRow, type TankHistory, type TankRow } from "@/lib/data";
import { type Expectation, usualCurrent } from "@/lib/diagnosis";
import {
  type Cell,
  closedFormShapeLength,
  conductivityFromCurrent,
  currentLimit,
  innerResistance,
  leadPairResistance,
  openVoltage,
  TEMPERATURE_FACTOR,
} from "@/lib/electrolysis";
import { volts } from "@/lib/units";
import { anodeCondition, electricSupply } from "../tanks";

const DAY_MS = 86_400_000;
/** A measured conductivity says nothing any more of a bath that was used for so long: assumption. */
const MEASURED_FOR_DAYS = 14;
/** Meter, cup and temperature together: common practice, no source. */
const MEASURED_ERROR_SHARE = 0.1;
/** Of its limit: from here on a supply is taken to hold its current. */
const HELD_SHARE = 0.98;
/** °C of a plan that does not say. */
const USUAL_TEMPERATURE_C = 18;

/**
 * What a loaded run should show: the tank's own model, set so that its middle current is the one that was planned, moved
 * by what the tank's earlier runs showed.
 *
 * @returns null where the tank lacks an anode, or the run its supply, parts or a planned current
 */
export function expectationOf(
  run: RunRow,
  tank: TankRow,
  history: TankHistory = NO_HISTORY,
  now: Date,
): Expectation | null {
  const { lnRatio, errorLog } = usualCurrent(history.currentRatios);
  const cell = cellOf(run, tank, run.expectedCurrentA * Math.exp(lnRatio));
  if (!cell) return null;
  const { conductivitySPerM, temperatureC } = plannedBath(run);
  return {
    cell,
    currentLowA: run.currentLowA,
    currentHighA: run.currentHighA,
    bathErrorLog: errorLog,
    loadedMs: (run.loadedAt ?? now).getTime(),
    bathTemperatureC: temperatureC,
    workingLevelMm: tank.workingLevelMm,
    bathChargeAhPerL: run.bath ? run.bath.chargeAh / run.bath.volumeL : 0,
    anodeWearShare: wearShare(tank, now),
    clampHours: history.clampHours,
    brushedHours: history.brushedHours,
    conductivity: measured(run, tank, { conductivitySPerM, temperatureC }, now),
  };
}

function cellOf(run: RunRow, tank: TankRow, currentA: number): Cell | null {
  const partAreaM2 = run.dips.reduce(
    (sum, { plan, part }) => sum + (part.quantity * plan.areaM2) / plan.dipCount,
    0,
  );
  const anodeAreaM2 = tank.anodes.reduce((sum, anode) => sum + anode.wettedAreaM2, 0);
  if (!run.supply || !(partAreaM2 > 0 && anodeAreaM2 > 0 && currentA > 0)) return null;
  const dissolving = tank.anodes.reduce((sum, a) => sum + a.lossFactor * a.wettedAreaM2, 0);
  const cell: Cell = {
    supply: electricSupply(run.supply),
    conductivitySPerM: plannedBath(run).conductivitySPerM,
    shapeLengthM: closedFormShapeLength({
      partAreaM2,
      volumeL: run.bath?.volumeL ?? 1,
      levelM: tank.workingLevelMm / 1000,
      anodeAreaM2,
      arrangement: "RING",
      clearanceM: tank.clearanceMm / 1000,
    }),
    partAreaM2,
    anodeAreaM2,
    leadOhm: leadPairResistance({ oneWayLengthM: tank.leadLengthM, areaMm2: tank.leadAreaMm2 }),
    contactOhm: tank.contactOhm,
    dissolvingShare: dissolving / anodeAreaM2,
  };
  return drawing(cell, currentA);
}

/**
 * The cell with the shape length at which its middle current is the one given. Where the supply holds the current, or
 * cannot drive so much, the shape stays as it is: the current says nothing of it.
 */
function drawing(cell: Cell, currentA: number): Cell {
  const terminalV = openVoltage(cell.supply) - currentA * innerResistance(cell.supply);
  if (terminalV <= 0 || currentA >= HELD_SHARE * currentLimit(cell.supply)) return cell;
  try {
    const { mid } = conductivityFromCurrent(cell, volts(terminalV), currentA);
    return { ...cell, shapeLengthM: (cell.shapeLengthM * mid) / cell.conductivitySPerM };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return cell;
  }
}

type PlannedBath = { readonly conductivitySPerM: number; readonly temperatureC: number };

/** The bath that the first part's plan counted on, with the temperature from that figure's working. */
function plannedBath(run: RunRow): PlannedBath {
  const figure = run.dips[0]?.plan.result.figures.conductivitySPerM;
  const temperature = figure?.inputs.find(({ symbol }) => symbol === "T")?.value;
  return {
    conductivitySPerM: figure && figure.value > 0 ? figure.value : 1,
    temperatureC: typeof temperature === "number" ? temperature : USUAL_TEMPERATURE_C,
  };
}

/** The most worn of the anodes: lost over what it may lose. */
function wearShare(tank: TankRow, now: Date): number {
  return Math.max(
    0,
    ...tank.anodes.map(
      (anode) => anodeCondition(anode, now).gone.value / 100 / anode.replaceAtShare,
    ),
  );
}

/**
 * The newest measurement by meter, against the plan. One from before the booking was in the books when the run was
 * planned: it only says that the bath is as it was counted on.
 */
function measured(
  run: RunRow,
  { bath }: TankRow,
  planned: PlannedBath,
  now: Date,
): Expectation["conductivity"] {
  if (bath === null || bath.id !== run.bathId) return null;
  const newest = bath.measurements.find(({ measuredBy }) => measuredBy === "METER");
  if (!newest) return null;
  if (now.getTime() - newest.at.getTime() > MEASURED_FOR_DAYS * DAY_MS) return null;
  if (newest.at < run.bookedAt) return { ratio: 1, errorShare: MEASURED_ERROR_SHARE };
  const warming =
    1 + TEMPERATURE_FACTOR.SODIUM_CARBONATE * (newest.temperatureC - planned.temperatureC);
  const ratio = newest.conductivitySPerM / (planned.conductivitySPerM * Math.max(0.3, warming));
  return ratio > 0 ? { ratio, errorShare: MEASURED_ERROR_SHARE } : null;
}
