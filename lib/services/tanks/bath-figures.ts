import type { RunRow, TankRow } from "@/lib/data";
import {
  type BathContents,
  bathStrength,
  coldestDissolved,
  type ConductivityBand,
  conductivityFromCurrent,
  workedConductivity,
} from "@/lib/electrolysis";
import { cellOf } from "@/lib/treatment";
import { volts, type Worked } from "@/lib/units";
import { fieldTimesOf } from "./field-times";
import { tankOption } from "./shape";

/** What a bath is, by the books, and by what its load draws. */
export type BathFigures = {
  readonly conductivity: Worked;
  readonly strength: Worked;
  /** °C below which it drops crystals; null where it never does */
  readonly coldestC: number | null;
  /** worked back from the load in it, S/m; null where none runs or its readings do not tell */
  readonly byCurrent: ConductivityBand | null;
};

/** A bath's contents as lib/electrolysis takes them. */
export const contentsOf = (bath: NonNullable<TankRow["bath"]>): BathContents => ({
  carbonateMassG: bath.carbonateG,
  bicarbonateMassG: bath.bicarbonateG,
  volumeL: bath.volumeL,
  temperatureC: bath.temperatureC,
});

/**
 * @param running the load in the tank with its latest reading; null where there is none
 * @returns null for a drained tank, and for a bath outside the tables (its own page says which)
 */
export function bathFigures(
  tank: TankRow,
  running: {
    readonly run: RunRow;
    readonly latest: { readonly voltsV: number; readonly currentA: number } | null;
  } | null,
): BathFigures | null {
  if (!tank.bath) return null;
  const contents = contentsOf(tank.bath);
  return known(() => ({
    conductivity: workedConductivity(contents),
    strength: workedStrength(contents),
    coldestC: coldestDissolved(contents),
    byCurrent: running?.latest ? byCurrent(tank, running.run, running.latest) : null,
  }));
}

function workedStrength(contents: BathContents): Worked {
  const salt = contents.carbonateMassG + contents.bicarbonateMassG;
  return {
    name: "strength of the bath",
    value: bathStrength(contents).strength,
    unit: "mass %",
    formula: "w = 100·m / (1000·V·ρ(w))",
    inputs: [
      {
        name: "soda, anhydrous",
        symbol: "m",
        value: salt,
        unit: "g",
        standing: "entered here",
      },
      { name: "volume", symbol: "V", value: contents.volumeL, unit: "L", standing: "entered here" },
      { name: "in a litre", value: salt / contents.volumeL, unit: "g/L", standing: "entered here" },
    ],
    standing: "handbook",
    source: "density: CRC Handbook, Concentrative Properties of Aqueous Solutions",
    note: "By the books: what was weighed in, less what measurements found gone.",
  };
}

function byCurrent(
  tank: TankRow,
  run: RunRow,
  { voltsV, currentA }: { readonly voltsV: number; readonly currentA: number },
): ConductivityBand | null {
  const { anode, supply, ...option } = tankOption(tank);
  if (!anode || !supply || !tank.bath || !(currentA > 0) || !(voltsV > 0)) return null;
  const areaM2 = run.dips.reduce((sum, { plan }) => sum + plan.areaM2 / plan.dipCount, 0);
  if (!(areaM2 > 0)) return null;
  const fieldTimes = fieldTimesOf(run.dips);
  const cell = cellOf({ ...option, anode, supply, fieldTimes }, areaM2, tank.bath.volumeL);
  return known(() => conductivityFromCurrent(cell, volts(voltsV), currentA));
}

/** What lies outside the models' ranges is not known. */
function known<Result>(work: () => Result): Result | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
