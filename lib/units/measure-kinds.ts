/** Kinds of quantity: what each is stored in, entered in and shown in, in either system. */
import {
  AIRFLOW_UNITS,
  AREA_UNITS,
  BATH_CHARGE_UNITS,
  CHARGE_DENSITY_UNITS,
  CONDUCTIVITY_UNITS,
  CURRENT_DENSITY_UNITS,
  DISTANCE_UNITS,
  DRAUGHT_UNITS,
  GAS_UNITS,
  LENGTH_UNITS,
  LINE_MASS_UNITS,
  LIQUID_UNITS,
  MASS_UNITS,
  type MeasureUnit,
  OPENING_UNITS,
  ROOM_UNITS,
  SECTION_UNITS,
  STRENGTH_UNITS,
  STRESS_UNITS,
  TEMPERATURE_UNITS,
  VOLUME_UNITS,
  WARMTH_UNITS,
  WORK_ON_AREA_UNITS,
} from "./measure-units";

/** The two systems that a shop may choose between. */
export const UNIT_SYSTEMS = ["METRIC", "US"] as const;
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];

/** One of the two, from a form or a request. */
export const isUnitSystem = (value: unknown): value is UnitSystem =>
  UNIT_SYSTEMS.some((system) => system === value);

type InSystem = {
  /** Unit of a bare number in a field, beside which it stands. */
  readonly entered: string;
  /** Units for reading, small to large: the largest in which the amount is 1 or more. */
  readonly shown: readonly string[];
  /** What may be typed, by example. */
  readonly examples: string;
};

export type KindFacts = {
  /** In a sentence: "a length". */
  readonly noun: string;
  readonly units: readonly MeasureUnit[];
  /** Read in sixteenths of an inch, as a tape measure has them. */
  readonly onTape?: true;
  /** Below zero is possible. */
  readonly signed?: true;
} & Readonly<Record<UnitSystem, InSystem>>;

const within = (entered: string, examples: string, ...larger: string[]): InSystem => ({
  entered,
  shown: [entered, ...larger],
  examples,
});

const LENGTH_EXAMPLES = "25 cm, 10 1/2 in, 2 ft 3 in";
const MASS_EXAMPLES = "500 g, 1.2 kg, 8 oz, 5 lb 4 oz";
const VOLUME_EXAMPLES = "20 L, 2 gal, 1 1/2 cups, 3 tbsp";

/** By use: a part is weighed in kg or lb, soda in g or oz; both are stored in g. */
const KINDS = {
  /** mm */
  length: {
    noun: "a length",
    units: LENGTH_UNITS,
    onTape: true,
    METRIC: within("mm", LENGTH_EXAMPLES),
    US: within("in", LENGTH_EXAMPLES),
  },
  /** mm, of walls and sheets: finer than a tape measure */
  thickness: {
    noun: "a thickness",
    units: LENGTH_UNITS,
    METRIC: within("mm", "1.5 mm, 1/16 in, 0.06 in"),
    US: within("in", "1/16 in, 0.06 in, 1.5 mm"),
  },
  /** m, of leads and rooms */
  distance: {
    noun: "a length",
    units: DISTANCE_UNITS,
    METRIC: within("m", "2 m, 80 cm, 6 ft 6 in"),
    US: within("ft", "6 ft 6 in, 2 m, 80 cm"),
  },
  /** m² */
  area: {
    noun: "an area",
    units: AREA_UNITS,
    METRIC: within("m²", "0.2 m², 450 cm², 2 ft², 70 in²"),
    US: within("ft²", "2 ft², 70 in², 0.2 m², 450 cm²"),
  },
  /** cm², of air openings */
  opening: {
    noun: "an area",
    units: OPENING_UNITS,
    METRIC: within("cm²", "450 cm², 70 in²"),
    US: within("in²", "70 in², 450 cm²"),
  },
  /** mm² of copper */
  section: {
    noun: "a wire size",
    units: SECTION_UNITS,
    METRIC: within("mm²", "4 mm², 10 AWG, 1/0 AWG"),
    US: within("AWG", "10 AWG, 1/0 AWG, 4 mm²"),
  },
  /** g, of soda and small things */
  salt: {
    noun: "a mass",
    units: MASS_UNITS,
    METRIC: within("g", MASS_EXAMPLES),
    US: within("oz", MASS_EXAMPLES, "lb"),
  },
  /** g, of anodes */
  steelMass: {
    noun: "a mass",
    units: MASS_UNITS,
    METRIC: within("g", MASS_EXAMPLES),
    US: { entered: "lb", shown: ["oz", "lb"], examples: MASS_EXAMPLES },
  },
  /** g, of parts */
  partMass: {
    noun: "a mass",
    units: MASS_UNITS,
    METRIC: within("kg", MASS_EXAMPLES),
    US: within("lb", MASS_EXAMPLES),
  },
  /** g/mm, of bars and sheets cut to length */
  lineMass: {
    noun: "a mass for a length",
    units: LINE_MASS_UNITS,
    METRIC: within("g/mm", "1.5 kg/m, 1 lb/ft"),
    US: within("lb/ft", "1 lb/ft, 1.5 kg/m"),
  },
  /** L */
  volume: {
    noun: "a volume",
    units: VOLUME_UNITS,
    METRIC: within("L", VOLUME_EXAMPLES),
    US: { entered: "US gal", shown: ["fl oz", "qt", "US gal"], examples: VOLUME_EXAMPLES },
  },
  /** mL, of oils and resins */
  liquid: {
    noun: "a volume",
    units: LIQUID_UNITS,
    METRIC: within("mL", "250 mL, 1 L, 8 fl oz, 1 pt"),
    US: within("fl oz", "8 fl oz, 1 pt, 250 mL", "qt", "US gal"),
  },
  /** °C */
  temperature: {
    noun: "a temperature",
    units: TEMPERATURE_UNITS,
    signed: true,
    METRIC: within("°C", "20 °C, 68 °F"),
    US: within("°F", "68 °F, 20 °C"),
  },
  /** K, of warming and cooling: a step, not a place on the scale */
  warmth: {
    noun: "a step of temperature",
    units: WARMTH_UNITS,
    METRIC: within("K", "5 K"),
    US: within("°F", "9 °F"),
  },
  /** m/s, of air */
  draught: {
    noun: "a speed",
    units: DRAUGHT_UNITS,
    METRIC: within("m/s", "0.1 m/s"),
    US: within("ft/min", "20 ft/min"),
  },
  /** m³, of rooms */
  roomVolume: {
    noun: "a volume",
    units: ROOM_UNITS,
    METRIC: within("m³", "60 m³, 2000 ft³"),
    US: within("ft³", "2000 ft³, 60 m³"),
  },
  /** L of gas */
  gas: {
    noun: "a volume of gas",
    units: GAS_UNITS,
    METRIC: within("L", "20 L, 1 ft³"),
    US: within("ft³", "1 ft³, 20 L"),
  },
  /** m³/h */
  airflow: {
    noun: "an air flow",
    units: AIRFLOW_UNITS,
    METRIC: within("m³/h", "10 m³/h, 6 cfm"),
    US: within("ft³/min", "6 cfm, 10 m³/h"),
  },
  /** A/m² */
  currentDensity: {
    noun: "a current density",
    units: CURRENT_DENSITY_UNITS,
    METRIC: within("A/m²", "10 A/m², 1 A/ft²"),
    US: within("A/ft²", "1 A/ft², 10 A/m²"),
  },
  /** A·h/m² */
  chargeDensity: {
    noun: "a charge on an area",
    units: CHARGE_DENSITY_UNITS,
    METRIC: within("A·h/m²", "50 A·h/m²"),
    US: within("A·h/ft²", "5 A·h/ft²"),
  },
  /** min/m² */
  workOnArea: {
    noun: "a time for an area",
    units: WORK_ON_AREA_UNITS,
    METRIC: within("min/m²", "60 min/m², 6 min/ft2"),
    US: within("min/ft²", "6 min/ft2, 60 min/m²"),
  },
  /** A·h/L */
  bathCharge: {
    noun: "a charge through a bath",
    units: BATH_CHARGE_UNITS,
    METRIC: within("A·h/L", "5 A·h/L"),
    US: within("A·h/US gal", "20 Ah/gal"),
  },
  /** g/L */
  strength: {
    noun: "a strength",
    units: STRENGTH_UNITS,
    METRIC: within("g/L", "5 g/L, 0.7 oz/gal"),
    US: within("oz/US gal", "0.7 oz/gal, 5 g/L"),
  },
  /** S/m: told in S/m and mS/cm everywhere */
  conductivity: {
    noun: "a conductivity",
    units: CONDUCTIVITY_UNITS,
    METRIC: within("mS/cm", "8 mS/cm, 0.8 S/m"),
    US: within("mS/cm", "8 mS/cm, 0.8 S/m"),
  },
  /** MPa */
  stress: {
    noun: "a strength",
    units: STRESS_UNITS,
    METRIC: within("MPa", "1000 MPa, 145 ksi"),
    US: within("ksi", "145 ksi, 1000 MPa"),
  },
} as const satisfies Readonly<Record<string, KindFacts>>;

export type MeasureKind = keyof typeof KINDS;
/** Every kind there is. */
export const MEASURE_KINDS = Object.keys(KINDS) as readonly MeasureKind[];

/** What is known of a kind. */
export const kindFacts = (kind: MeasureKind): KindFacts => KINDS[kind];

/** A kind's unit by its sign. @throws RangeError if the kind has no such unit */
export function unitOf(kind: MeasureKind, sign: string): MeasureUnit {
  const found = kindFacts(kind).units.find((unit) => unit.sign === sign);
  if (!found) throw new RangeError(`${kind} has no unit ${sign}`);
  return found;
}

/** The unit of a bare number typed in this system. @example enteredUnit("length", "US").sign // "in" */
export const enteredUnit = (kind: MeasureKind, system: UnitSystem): MeasureUnit =>
  unitOf(kind, kindFacts(kind)[system].entered);
