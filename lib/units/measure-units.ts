/**
 * Units that people type and read, by what they measure. `toSi` and `fromSi` go to and from the unit that
 * the kind is stored in (see `measure-kinds.ts`). Factors are those of `conversions.ts`: exact, NIST SP 811.
 */
import {
  CUBIC_METRES_PER_CUBIC_FOOT,
  GRAMS_PER_OUNCE,
  GRAMS_PER_POUND,
  LITRES_PER_US_CUP,
  LITRES_PER_US_FLUID_OUNCE,
  LITRES_PER_US_GALLON,
  LITRES_PER_US_TABLESPOON,
  LITRES_PER_US_TEASPOON,
  MEGAPASCALS_PER_KSI,
  MILLIMETRES_PER_INCH,
  SQUARE_METRES_PER_SQUARE_FOOT,
} from "./conversions";
import { squareMillimetres } from "./quantities";
import { wireArea, wireGauge } from "./wire";

export type MeasureUnit = {
  /** As it is written beside a number: "mm". */
  readonly sign: string;
  /** Other ways in which people type it, in small letters. */
  readonly words: readonly string[];
  readonly toSi: (value: number) => number;
  readonly fromSi: (si: number) => number;
};

/** stored = (value − zero) · factor */
const unit = (sign: string, factor: number, words: readonly string[], zero = 0): MeasureUnit => ({
  sign,
  words,
  toSi: (value) => (value - zero) * factor,
  fromSi: (si) => si / factor + zero,
});

/** The same units where the stored one is `factor` times as large. */
const storedIn = (units: readonly MeasureUnit[], factor: number): MeasureUnit[] =>
  units.map((each) => ({
    ...each,
    toSi: (value) => each.toSi(value) / factor,
    fromSi: (si) => each.fromSi(si * factor),
  }));

/** Stored in mm. */
export const LENGTH_UNITS: readonly MeasureUnit[] = [
  unit("mm", 1, ["millimetre", "millimetres", "millimeter", "millimeters"]),
  unit("cm", 10, ["centimetre", "centimetres", "centimeter", "centimeters"]),
  unit("m", 1000, ["metre", "metres", "meter", "meters"]),
  unit("in", MILLIMETRES_PER_INCH, ["in.", '"', "inch", "inches"]),
  unit("ft", 12 * MILLIMETRES_PER_INCH, ["ft.", "'", "foot", "feet"]),
];

/** Stored in m. */
export const DISTANCE_UNITS = storedIn(LENGTH_UNITS, 1000);

/** Stored in m². */
export const AREA_UNITS: readonly MeasureUnit[] = [
  unit("m²", 1, ["m2", "sq m", "m^2"]),
  unit("cm²", 1e-4, ["cm2", "sq cm", "cm^2"]),
  unit("mm²", 1e-6, ["mm2", "sq mm", "mm^2"]),
  unit("ft²", SQUARE_METRES_PER_SQUARE_FOOT, ["ft2", "sq ft", "sqft", "sq. ft.", "ft^2"]),
  unit("in²", SQUARE_METRES_PER_SQUARE_FOOT / 144, ["in2", "sq in", "sq. in.", "in^2"]),
];

/** Stored in cm². */
export const OPENING_UNITS = storedIn(AREA_UNITS, 1e-4);

/** Copper of a wire, stored in mm². */
export const SECTION_UNITS: readonly MeasureUnit[] = [
  unit("mm²", 1, ["mm2", "sq mm", "mm^2"]),
  {
    sign: "AWG",
    words: ["ga", "gauge"],
    toSi: wireArea,
    fromSi: (si) => wireGauge(squareMillimetres(si)),
  },
];

/** Stored in g. */
export const MASS_UNITS: readonly MeasureUnit[] = [
  unit("g", 1, ["gram", "grams", "gramme", "grammes"]),
  unit("kg", 1000, ["kilo", "kilos", "kilogram", "kilograms"]),
  unit("oz", GRAMS_PER_OUNCE, ["oz.", "ounce", "ounces"]),
  unit("lb", GRAMS_PER_POUND, ["lb.", "lbs", "lbs.", "pound", "pounds"]),
];

/** Mass of a length of bar or sheet, stored in g/mm, which is kg/m. */
export const LINE_MASS_UNITS: readonly MeasureUnit[] = [
  unit("g/mm", 1, []),
  unit("kg/m", 1, []),
  unit("lb/ft", GRAMS_PER_POUND / (12 * MILLIMETRES_PER_INCH), ["lbs/ft"]),
  unit("oz/in", GRAMS_PER_OUNCE / MILLIMETRES_PER_INCH, []),
];

/** Stored in L. An ounce of liquid is a fluid ounce; gallons, pints and cups are those of the US. */
export const VOLUME_UNITS: readonly MeasureUnit[] = [
  unit("L", 1, ["l", "litre", "litres", "liter", "liters"]),
  unit("mL", 0.001, ["ml", "millilitre", "millilitres", "milliliter", "milliliters"]),
  unit("tsp", LITRES_PER_US_TEASPOON, ["tsp.", "teaspoon", "teaspoons"]),
  unit("tbsp", LITRES_PER_US_TABLESPOON, ["tbsp.", "tbs", "tablespoon", "tablespoons"]),
  unit("fl oz", LITRES_PER_US_FLUID_OUNCE, ["fl. oz.", "floz", "oz", "oz.", "fluid ounces"]),
  unit("US cup", LITRES_PER_US_CUP, ["cup", "cups", "us cups"]),
  unit("pt", LITRES_PER_US_GALLON / 8, ["pt.", "pint", "pints"]),
  unit("qt", LITRES_PER_US_GALLON / 4, ["qt.", "quart", "quarts"]),
  unit("US gal", LITRES_PER_US_GALLON, ["gal", "gal.", "gals", "gallon", "gallons", "us gallons"]),
];

/** Stored in mL. */
export const LIQUID_UNITS = storedIn(VOLUME_UNITS, 0.001);

/** Stored in °C. */
export const TEMPERATURE_UNITS: readonly MeasureUnit[] = [
  unit("°C", 1, ["c", "degc", "deg c", "º c", "celsius"]),
  unit("°F", 5 / 9, ["f", "degf", "deg f", "fahrenheit"], 32),
];

/** Stored in K. */
export const WARMTH_UNITS: readonly MeasureUnit[] = [unit("K", 1, ["k"]), unit("°F", 5 / 9, ["f"])];

/** Stored in m/s. */
export const DRAUGHT_UNITS: readonly MeasureUnit[] = [
  unit("m/s", 1, []),
  unit("ft/min", (12 * MILLIMETRES_PER_INCH) / 60_000, ["fpm"]),
];

/** Stored in m³. */
export const ROOM_UNITS: readonly MeasureUnit[] = [
  unit("m³", 1, ["m3", "cu m", "m^3", "cubic metres", "cubic meters"]),
  unit("ft³", CUBIC_METRES_PER_CUBIC_FOOT, ["ft3", "cu ft", "cu. ft.", "ft^3", "cubic feet"]),
];

/** Stored in L. */
export const GAS_UNITS: readonly MeasureUnit[] = [
  unit("L", 1, ["l"]),
  ...storedIn(ROOM_UNITS, 0.001),
];

/** Stored in m³/h. */
export const AIRFLOW_UNITS: readonly MeasureUnit[] = [
  unit("m³/h", 1, ["m3/h"]),
  unit("ft³/min", 60 * CUBIC_METRES_PER_CUBIC_FOOT, ["ft3/min", "cfm", "cu ft/min"]),
];

/** What stands on an area, stored for a square metre. */
const onArea = (each: string): readonly MeasureUnit[] => [
  unit(`${each}/m²`, 1, [`${each}/m2`.toLowerCase()]),
  unit(`${each}/dm²`, 100, [`${each}/dm2`.toLowerCase()]),
  unit(`${each}/ft²`, 1 / SQUARE_METRES_PER_SQUARE_FOOT, [`${each}/ft2`.toLowerCase()]),
];
export const CURRENT_DENSITY_UNITS = onArea("A");
export const CHARGE_DENSITY_UNITS = onArea("A·h");
export const WORK_ON_AREA_UNITS = onArea("min");

/** Stored in A·h/L. */
export const BATH_CHARGE_UNITS: readonly MeasureUnit[] = [
  unit("A·h/L", 1, ["ah/l"]),
  unit("A·h/US gal", 1 / LITRES_PER_US_GALLON, ["ah/gal"]),
];

/** Stored in g/L. */
export const STRENGTH_UNITS: readonly MeasureUnit[] = [
  unit("g/L", 1, ["g/l"]),
  unit("oz/US gal", GRAMS_PER_OUNCE / LITRES_PER_US_GALLON, ["oz/gal"]),
  unit("lb/US gal", GRAMS_PER_POUND / LITRES_PER_US_GALLON, ["lb/gal"]),
];

/** Stored in S/m. */
export const CONDUCTIVITY_UNITS: readonly MeasureUnit[] = [
  unit("S/m", 1, ["s/m"]),
  unit("mS/cm", 0.1, ["ms/cm"]),
  unit("µS/cm", 1e-4, ["us/cm", "μs/cm"]),
];

/** Stored in MPa. */
export const STRESS_UNITS: readonly MeasureUnit[] = [
  unit("MPa", 1, ["mpa", "n/mm2", "n/mm²"]),
  unit("ksi", MEGAPASCALS_PER_KSI, []),
];
