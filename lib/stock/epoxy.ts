/** Two-part epoxy: how much of each part, how long it can be worked, and when it has set. */
import type { Worked, WorkedInput } from "@/lib/units";

/** What the maker's sheet says of an epoxy. */
export type EpoxySheet = {
  /** grams of hardener to 100 g of resin, above 0; null where the sheet gives none */
  readonly hardenerPer100ByMass: number | null;
  /** mL of hardener to 100 mL of resin, above 0; null where the sheet gives none */
  readonly hardenerPer100ByVolume: number | null;
  /** g/mL of the mixed epoxy; null where the sheet gives none */
  readonly densityGPerMl: number | null;
  /** °C at which pot life and cure are told */
  readonly referenceC: number;
  /** min, above 0 */
  readonly potLifeMin: number;
  /** h until a patch may stand in a bath, above 0 */
  readonly cureHours: number;
  /** °C: colder than this it does not set */
  readonly leastCureC: number;
};

/** What is wrong with a sheet, by field; empty where nothing is. */
export function epoxyFaults(sheet: EpoxySheet): Readonly<Record<string, string>> {
  const faults: Record<string, string> = { ...ratioFaults(sheet) };
  const { densityGPerMl } = sheet;
  if (densityGPerMl !== null && !(densityGPerMl >= 0.5 && densityGPerMl <= 5)) {
    faults["densityGPerMl"] = "From 0.5 to 5 g/mL.";
  }
  for (const field of ["potLifeMin", "cureHours"] as const) {
    if (!(sheet[field] > 0)) faults[field] = "Above 0.";
  }
  if (!(sheet.leastCureC <= sheet.referenceC)) {
    faults["leastCureC"] = "Not above the temperature that the times are told for.";
  }
  return faults;
}

function ratioFaults(sheet: EpoxySheet): Record<string, string> {
  const fields = ["hardenerPer100ByMass", "hardenerPer100ByVolume"] as const;
  if (fields.every((field) => sheet[field] === null)) {
    return { hardenerPer100ByMass: "Enter the ratio by mass, by volume, or both." };
  }
  const faults: Record<string, string> = {};
  for (const field of fields) {
    const ratio = sheet[field];
    if (ratio !== null && !(ratio > 0 && ratio <= 1000)) faults[field] = "Above 0, at most 1000.";
  }
  return faults;
}

/** g/mL where the sheet gives none: filled epoxies are heavier, thin ones lighter. Assumption. */
const USUAL_DENSITY = 1.1;

/** By what the parts are measured out. */
export type MixBy = "MASS" | "VOLUME";

/**
 * How much of each part, and how long it can be worked. In g by mass, in mL by volume: never one's ratio with the
 * other's measure, since the two parts differ in density.
 *
 * @param total g by mass, mL by volume, of both parts together, above 0
 * @throws RangeError where the total is not above 0, or the sheet has no ratio of that kind
 * @example mixEpoxy({ ...sheet, hardenerPer100ByMass: 50 }, "MASS", 90) // resin 60 g, hardener 30 g
 */
export function mixEpoxy(
  sheet: EpoxySheet,
  by: MixBy,
  total: number,
): { readonly resin: Worked; readonly hardener: Worked } {
  const ratio = by === "MASS" ? sheet.hardenerPer100ByMass : sheet.hardenerPer100ByVolume;
  if (ratio === null) throw new RangeError("the sheet gives no ratio of this kind");
  if (!(total > 0 && Number.isFinite(total))) {
    throw new RangeError(`an amount above 0 is wanted, got ${total}`);
  }
  const unit = by === "MASS" ? "g" : "mL";
  const inputs: WorkedInput[] = [
    { name: "both parts together", symbol: "m", value: total, unit, standing: "entered here" },
    {
      name: `hardener to 100 ${unit} of resin`,
      symbol: "h",
      value: ratio,
      unit,
      standing: "entered here",
      source: "the maker's sheet",
    },
  ];
  const resin = (total * 100) / (100 + ratio);
  const common = { unit, inputs, standing: "entered here" } as const;
  return {
    resin: { ...common, name: "resin", value: resin, formula: "m_resin = m · 100/(100 + h)" },
    hardener: {
      ...common,
      name: "hardener",
      value: total - resin,
      formula: "m_hardener = m − m_resin",
    },
  };
}

/**
 * Epoxy for a patch, g: its area times its thickness times the density.
 *
 * @param areaM2 m², above 0
 * @param thicknessMm mm, above 0
 * @throws RangeError outside that
 * @example patchMass(sheet, 0.01, 2).value // 22 g at 1.1 g/mL
 */
export function patchMass(sheet: EpoxySheet, areaM2: number, thicknessMm: number): Worked {
  if (!(areaM2 > 0 && thicknessMm > 0 && Number.isFinite(areaM2 * thicknessMm))) {
    throw new RangeError("a patch has an area and a thickness above 0");
  }
  const density = sheet.densityGPerMl ?? USUAL_DENSITY;
  return {
    name: "epoxy for the patch",
    value: areaM2 * thicknessMm * 1000 * density,
    unit: "g",
    formula: "m = A · d · ρ",
    inputs: [
      { name: "area", symbol: "A", value: areaM2, unit: "m²", standing: "entered here" },
      { name: "thickness", symbol: "d", value: thicknessMm, unit: "mm", standing: "entered here" },
      densityInput(sheet),
    ],
    standing: sheet.densityGPerMl === null ? "assumption" : "entered here",
    note: "Nothing is added for what stays in the cup and on the brush.",
  };
}

/** The same amount as volume, mL. @example volumeOf(sheet, 22).value // 20 mL at 1.1 g/mL */
export function volumeOf(sheet: EpoxySheet, massG: number): Worked {
  return {
    name: "as volume",
    value: massG / (sheet.densityGPerMl ?? USUAL_DENSITY),
    unit: "mL",
    formula: "V = m / ρ",
    inputs: [
      { name: "mass", symbol: "m", value: massG, unit: "g", standing: "entered here" },
      densityInput(sheet),
    ],
    standing: sheet.densityGPerMl === null ? "assumption" : "entered here",
  };
}

function densityInput({ densityGPerMl }: EpoxySheet): WorkedInput {
  const name = "density of the mix";
  if (densityGPerMl === null) {
    return { name, symbol: "ρ", value: USUAL_DENSITY, unit: "g/mL", standing: "assumption" };
  }
  const source = "the maker's sheet";
  return {
    name,
    symbol: "ρ",
    value: densityGPerMl,
    unit: "g/mL",
    standing: "entered here",
    source,
  };
}

/** Ten kelvin warmer halve the time, ten colder double it: common practice, no source. */
const HALVES_PER_K = 10;

/** How long the mix can be worked at a temperature, min. */
export const potLifeAt = (sheet: EpoxySheet, temperatureC: number): Worked => ({
  ...timeAt(sheet, temperatureC, sheet.potLifeMin, "min"),
  name: "pot life",
  note: "A rule of thumb: the maker's sheet goes first. A large cup heats itself and sets much sooner; spread it out.",
});

/**
 * How long a patch takes to set at a temperature, h.
 *
 * @throws RangeError where it is too cold to set at all
 * @example cureAt({ ...sheet, cureHours: 24, referenceC: 20 }, 10).value // 48
 */
export function cureAt(sheet: EpoxySheet, temperatureC: number): Worked {
  if (temperatureC < sheet.leastCureC) {
    throw new RangeError(
      `at {${temperatureC} °C} it does not set: it takes {${sheet.leastCureC} °C} at least. Warm the place first`,
    );
  }
  return {
    ...timeAt(sheet, temperatureC, sheet.cureHours, "h"),
    name: "until it has set",
    note: "A rule of thumb: the maker's sheet goes first. Tap it: it should ring, not give.",
  };
}

function timeAt(
  { referenceC }: EpoxySheet,
  temperatureC: number,
  atReference: number,
  unit: "min" | "h",
): Omit<Worked, "name"> {
  return {
    value: atReference * 2 ** ((referenceC - temperatureC) / HALVES_PER_K),
    unit,
    formula: "t = t_ref · 2^((T_ref − T)/10 K)",
    inputs: [
      {
        name: "time on the sheet",
        symbol: "t_ref",
        value: atReference,
        unit,
        standing: "entered here",
        source: "the maker's sheet",
      },
      {
        name: "for",
        symbol: "T_ref",
        value: referenceC,
        unit: "°C",
        standing: "entered here",
        source: "the maker's sheet",
      },
      {
        name: "the workshop",
        symbol: "T",
        value: temperatureC,
        unit: "°C",
        standing: "entered here",
      },
    ],
    standing: "common practice",
  };
}
