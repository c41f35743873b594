import {
  type AmpereHours,
  type Amperes,
  type Celsius,
  checkNonNegative,
  checkRange,
  type KilowattHours,
  type Volts,
  type Worked,
  type WorkedInput,
} from "@/lib/units";
import {
  anodeMassDissolved,
  bathHeat,
  FARADAY_CONSTANT,
  hydrogenVolume,
  IRON,
  STANDARD_ATMOSPHERE,
  WATER_THERMONEUTRAL_V,
} from "./faraday";
import { airflowNeeded, openingNeeded, VENTILATION_NOTE } from "./ventilation";

const FARADAY_INPUT: WorkedInput = {
  name: "Faraday constant",
  symbol: "F",
  value: FARADAY_CONSTANT,
  unit: "C/mol",
  standing: "standard",
  source: "2019 SI, CODATA 2018",
};

/**
 * Hydrogen from a charge, with its working.
 * @throws RangeError as `hydrogenVolume`
 * @example workedHydrogen(ampereHours(10), celsius(20)).value // 4.49 L
 */
export function workedHydrogen(
  charge: AmpereHours,
  temperature: Celsius,
  pressurePa = STANDARD_ATMOSPHERE,
): Worked {
  return {
    name: "hydrogen",
    value: hydrogenVolume(charge, temperature, pressurePa),
    unit: "L",
    formula: "V = Q/(2·F) · R·T/p",
    inputs: [
      { name: "charge", symbol: "Q", value: charge, unit: "A·h", standing: "assumption" },
      {
        name: "temperature",
        symbol: "T",
        value: temperature,
        unit: "°C",
        standing: "entered here",
      },
      { name: "pressure", symbol: "p", value: pressurePa, unit: "Pa", standing: "assumption" },
      FARADAY_INPUT,
    ],
    standing: "assumption",
    source: "Faraday's law and the ideal gas: CODATA 2018; the charge is the plan's",
    note: "All the charge at the part is taken to make hydrogen: the most there can be.",
  };
}

/**
 * Air a tank needs, with its working and the opening that lets it through.
 * @throws RangeError as `airflowNeeded`
 * @example workedVentilation(amperes(10)).value // 0.5 m³/h
 */
export function workedVentilation(current: Amperes, seriesCells = 1): Worked {
  const airflow = airflowNeeded(current, seriesCells);
  return {
    name: "fresh air",
    value: airflow,
    unit: "m³/h",
    formula: "Q = 0.05 · n · I",
    inputs: [
      { name: "current", symbol: "I", value: current, unit: "A", standing: "assumption" },
      {
        name: "tanks in series",
        symbol: "n",
        value: seriesCells,
        standing: "entered here",
      },
      {
        name: "opening in and opening out, each 28·Q",
        value: openingNeeded(airflow),
        unit: "cm²",
        standing: "standard",
        source: "IEC 62485-2, natural ventilation",
      },
    ],
    standing: "assumption",
    source: "IEC 62485-2:2010 clause 7.2 (clause number from memory)",
    note: VENTILATION_NOTE,
  };
}

/**
 * Iron an anode loses to a charge, with its working.
 * @param dissolvingShare φ with its error, shares; the range shown is cut to 0 to 1
 * @throws RangeError if φ is outside 0 to 1 or the error negative
 * @example workedAnodeLoss(ampereHours(10), { mean: 0.15, error: 0.15 }).value // 1.56 g, 0 to 3.13
 */
export function workedAnodeLoss(
  charge: AmpereHours,
  dissolvingShare: { readonly mean: number; readonly error: number },
): Worked {
  const { mean, error } = dissolvingShare;
  checkNonNegative("error of the dissolving share", error, "share");
  return {
    name: "anode loss",
    value: anodeMassDissolved(charge, mean),
    unit: "g",
    low: anodeMassDissolved(charge, Math.max(0, mean - error)),
    high: anodeMassDissolved(charge, Math.min(1, mean + error)),
    formula: "m = φ · Q · M/(2·F) = φ · 1.0418 g/A·h · Q",
    inputs: [
      { name: "charge", symbol: "Q", value: charge, unit: "A·h", standing: "assumption" },
      {
        name: "share of charge that dissolves iron",
        symbol: "φ",
        value: mean,
        standing: "assumption",
        source: "wide prior until this anode has been weighed",
      },
      {
        name: "atomic weight of iron",
        symbol: "M",
        value: IRON.molarMass,
        unit: "g/mol",
        standing: "standard",
        source: "IUPAC abridged value",
      },
      FARADAY_INPUT,
    ],
    standing: "assumption",
    source: "Faraday's law; φ is our assumption",
    note: `At most {${anodeMassDissolved(charge).toFixed(1)} g}, if all the charge dissolves iron.`,
  };
}

/**
 * Heat a tank gives its bath, with its working.
 * @param cellVoltage V between part and anode
 * @example workedBathHeat(amperes(5), volts(12)).value // 52.6 W
 */
export function workedBathHeat(current: Amperes, cellVoltage: Volts): Worked {
  return {
    name: "heat in the bath",
    value: bathHeat(current, cellVoltage),
    unit: "W",
    high: current * cellVoltage,
    formula: "P = I · (V − 1.48)",
    inputs: [
      { name: "current", symbol: "I", value: current, unit: "A", standing: "assumption" },
      { name: "cell voltage", symbol: "V", value: cellVoltage, unit: "V", standing: "assumption" },
      {
        name: "thermoneutral voltage of water",
        value: WATER_THERMONEUTRAL_V,
        unit: "V",
        standing: "standard",
        source: "CODATA key values, ΔH = 285.83 kJ/mol at 25 °C",
      },
    ],
    standing: "assumption",
    source: "first law; the current is the plan's",
    note: "Passive anode. An active anode stores almost nothing, so the heat is up to I·V.",
  };
}

/**
 * Energy drawn from the wall, with its working.
 * @param cell       kW·h at the supply's output, ≥ 0
 * @param efficiency of the supply, in (0, 1]
 * @throws RangeError if an argument is outside its range
 * @example workedEnergyAtWall(kilowattHours(0.12), 0.75).value // 0.16 kW·h
 */
export function workedEnergyAtWall(cell: KilowattHours, efficiency: number): Worked {
  checkNonNegative("energy at the supply's output", cell, "kW·h");
  checkRange("efficiency", efficiency, Number.MIN_VALUE, 1, "(share)");
  return {
    name: "energy at the wall",
    value: cell / efficiency,
    unit: "kW·h",
    formula: "E_wall = E_out / efficiency",
    inputs: [
      {
        name: "energy at the supply's output",
        symbol: "E_out",
        value: cell,
        unit: "kW·h",
        standing: "assumption",
      },
      { name: "efficiency of the supply", value: efficiency, standing: "entered here" },
    ],
    standing: "assumption",
    source: "definition of efficiency; the charge and voltage are the plan's",
  };
}
