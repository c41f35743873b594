import { celsius, massPercent, type Standing, type Worked, type WorkedInput } from "@/lib/units";
import { bathConductivity, type BathContents, bathStrength } from "./bath";
import { CONDUCTIVITY_SOURCE, conductivityErrorShare, TEMPERATURE_FACTOR } from "./conductivity";
import { type Cell, type LimitingTerm, operatingBand } from "./operating-point";
import { type Salt, SALTS } from "./salts";
import { continuousRating, innerResistance, openVoltage } from "./supply";

/** How the shape length of a cell is known, and the resistance of its clamps where that is not entered. */
export type ShapeLengthOrigin = {
  readonly standing: Standing;
  readonly source: string;
  readonly contacts?: { readonly standing: Standing; readonly source: string };
};

/** The origin of `closedFormShapeLength`. */
export const CLOSED_FORM_ORIGIN: ShapeLengthOrigin = {
  standing: "assumption",
  source: "closed form from part area, volume, level and anode",
};

/** The origin of a shape length from the field of the bath, with `layeredShapeLength`. */
export const FIELD_ORIGIN: ShapeLengthOrigin = {
  standing: "assumption",
  source: "field of this part in this tank, with a millimetre of rust and of scale",
};

/** The words for what holds the current down. */
export const LIMITING_TERM_WORDS: Readonly<Record<LimitingTerm, string>> = {
  REACTIONS: "the reactions at part and anode",
  BATH: "the bath's resistance",
  LEADS: "the leads",
  CONTACTS: "the clamps",
  SUPPLY: "the sag inside the supply",
  CURRENT_LIMIT: "the supply's current limit",
  TOO_FEW_VOLTS: "too few volts to start",
};

/**
 * Conductivity of a bath with its working.
 * @throws RangeError as `bathConductivity`
 * @example workedConductivity({ carbonateMassG: 100, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 }).value // 0.69 S/m
 */
export function workedConductivity(bath: BathContents): Worked {
  const value = bathConductivity(bath);
  const { carbonateShare } = bathStrength(bath);
  const error = conductivityErrorShare(celsius(bath.temperatureC));
  const mixed = carbonateShare > 0 && carbonateShare < 1;
  const source =
    carbonateShare > 0
      ? CONDUCTIVITY_SOURCE.SODIUM_CARBONATE
      : CONDUCTIVITY_SOURCE.SODIUM_BICARBONATE;
  return {
    name: "conductivity of the bath",
    value,
    unit: "S/m",
    low: value * (1 - error),
    high: value * (1 + error),
    formula: mixed
      ? "κ = x·κ_carbonate(w, T) + (1 − x)·κ_bicarbonate(w, T)"
      : "κ = κ₂₀(w) · (1 + α·(T − 20))",
    inputs: conductivityInputs(bath),
    standing: mixed ? "assumption" : "handbook",
    source,
    note: mixed
      ? "Both salts together: weighted by mass, our own rule. Rust and dirt in the bath are left out."
      : "Rust and dirt in the bath are left out; they are little beside the soda.",
  };
}

function conductivityInputs(bath: BathContents): WorkedInput[] {
  const { strength, carbonateShare } = bathStrength(bath);
  return [
    entered("carbonate, anhydrous", "m_c", bath.carbonateMassG, "g"),
    entered("bicarbonate", "m_b", bath.bicarbonateMassG, "g"),
    entered("volume", "V", bath.volumeL, "L"),
    entered("temperature", "T", bath.temperatureC, "°C"),
    {
      name: "strength",
      symbol: "w",
      value: massPercent(strength),
      unit: "mass %",
      standing: "handbook",
      source: "CRC Handbook, Concentrative Properties of Aqueous Solutions (density)",
    },
    {
      name: "carbonate's share of the salt",
      symbol: "x",
      value: carbonateShare,
      standing: "entered here",
    },
    ...SALTS.filter((salt) => holds(salt, carbonateShare)).map(warmingInput),
  ];
}

function holds(salt: Salt, carbonateShare: number): boolean {
  return salt === "SODIUM_CARBONATE" ? carbonateShare > 0 : carbonateShare < 1;
}

function warmingInput(salt: Salt): WorkedInput {
  return {
    name: salt === "SODIUM_CARBONATE" ? "gain a kelvin, carbonate" : "gain a kelvin, bicarbonate",
    symbol: "α",
    value: TEMPERATURE_FACTOR[salt],
    unit: "1/K",
    standing: "handbook",
    source:
      salt === "SODIUM_CARBONATE"
        ? "Kohlrausch and Holborn, rounded (from memory)"
        : "usual for salts in water (from memory)",
  };
}

/**
 * The current a tank draws, low to high, with its working.
 * @param origin how the shape length is known
 * @throws RangeError as `operatingBand`
 * @example workedOperatingPoint(cell).value // A
 */
export function workedOperatingPoint(
  cell: Cell,
  origin: ShapeLengthOrigin = CLOSED_FORM_ORIGIN,
): Worked {
  const band = operatingBand(cell);
  return {
    name: "current",
    value: band.mid.currentA,
    unit: "A",
    low: band.low.currentA,
    high: band.high.currentA,
    formula:
      "V_open − I·R_i = E_rev + η_c(I/A_c) + η_a(I/A_a) + I·(1/(κ·g) + R_leads + R_contacts)",
    inputs: [...supplyInputs(cell), ...bathInputs(cell, origin), ...electrodeInputs(cell)],
    standing: "assumption",
    source: "electrode overvoltages: assumption inside published spans for iron and mild steel",
    note:
      `Held down most by ${LIMITING_TERM_WORDS[band.mid.limitedBy]}. ` +
      "Low: passive anode; high: active anode; both with the shape length's own error.",
  };
}

function supplyInputs({ supply }: Cell): WorkedInput[] {
  return [
    entered("open voltage of the supply", "V_open", openVoltage(supply), "V"),
    entered("inner resistance of the supply", "R_i", innerResistance(supply), "Ω"),
    {
      name: "continuous rating",
      value: continuousRating(supply),
      unit: "A",
      standing: "common practice",
      source: "share of the rating that the supply can give without end",
    },
  ];
}

function bathInputs(cell: Cell, origin: ShapeLengthOrigin): WorkedInput[] {
  return [
    {
      name: "conductivity",
      symbol: "κ",
      value: cell.conductivitySPerM,
      unit: "S/m",
      standing: "handbook",
      source: "CRC Handbook, Electrical Conductivity of Aqueous Solutions",
    },
    {
      name: "shape length",
      symbol: "g",
      value: cell.shapeLengthM,
      unit: "m",
      standing: origin.standing,
      source: origin.source,
    },
    {
      name: "resistance of the leads",
      symbol: "R_leads",
      value: cell.leadOhm,
      unit: "Ω",
      standing: "standard",
      source: "copper by IEC 60028",
    },
    {
      ...entered("resistance of the clamps", "R_contacts", cell.contactOhm, "Ω"),
      ...origin.contacts,
    },
  ];
}

function electrodeInputs(cell: Cell): WorkedInput[] {
  return [
    entered("wetted area of the parts", "A_c", cell.partAreaM2, "m²"),
    entered("anode area facing the bath", "A_a", cell.anodeAreaM2, "m²"),
    {
      name: "share of charge that dissolves the anode",
      symbol: "φ",
      value: cell.dissolvingShare,
      standing: "assumption",
      source: "until this anode has been weighed",
    },
  ];
}

/** An input the shop typed in. */
export function entered(name: string, symbol: string, value: number, unit: string): WorkedInput {
  return { name, symbol, value, unit, standing: "entered here" };
}
