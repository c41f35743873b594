/** Stored measures as people read them, and as a form fills them in. */
import {
  enteredUnit,
  kindFacts,
  type MeasureKind,
  UNIT_SYSTEMS,
  unitOf,
  type UnitSystem,
} from "./measure-kinds";
import type { MeasureUnit } from "./measure-units";
import { parseMeasure } from "./measure-parse";
import { formatNumber } from "./number";
import { gaugeText } from "./wire";

/** Finest mark of a usual tape measure, and of a fine rule: parts of an inch. */
const TAPE_PARTS = 16;
const RULE_PARTS = 64;
/** Below so many inches a sixteenth is too coarse. */
const TAPE_FROM_IN = 0.5;
/** A section this near a gauge's is that gauge; the next one is 26 % away. */
const SAME_GAUGE = 0.01;

type Shown = {
  /** At most so many decimals; about three figures where left out. No fractions of an inch then. */
  readonly decimals?: number;
};

/**
 * A stored measure in the units of a system.
 *
 * @param si in the kind's stored unit
 * @example formatMeasure("length", 300, "US") // "11 13/16 in"
 * @example formatMeasure("volume", 62, "US") // "16.4 US gal"
 */
export function formatMeasure(
  kind: MeasureKind,
  si: number,
  system: UnitSystem,
  shown: Shown = {},
): string {
  return formatMeasures(kind, [si], system, "", shown);
}

/**
 * Several measures that share one unit: that of the largest.
 *
 * @example formatMeasures("length", [250, 65], "METRIC", " × ") // "250 × 65 mm"
 * @example formatMeasures("temperature", [190, 220], "US", " to ") // "374 to 428 °F"
 */
export function formatMeasures(
  kind: MeasureKind,
  values: readonly number[],
  system: UnitSystem,
  between: string,
  shown: Shown = {},
): string {
  const unit = shownUnit(kind, Math.max(...values.map(Math.abs)), system);
  const texts = values.map((si) => numberIn(kind, unit, si, shown));
  return `${texts.join(between)} ${unit.sign}`;
}

/**
 * The unit in which an amount reads best, in a system.
 * @param si in the kind's stored unit
 * @example shownUnit("salt", 4000, "US").sign // "lb"
 */
export function shownUnit(kind: MeasureKind, si: number, system: UnitSystem): MeasureUnit {
  if (kind === "section" && system === "US" && !isGauge(si)) return unitOf(kind, "mm²");
  const [smallest = "", ...larger] = kindFacts(kind)[system].shown;
  const fits = larger.filter((sign) => unitOf(kind, sign).fromSi(si) >= 1);
  return unitOf(kind, fits.at(-1) ?? smallest);
}

function numberIn(kind: MeasureKind, unit: MeasureUnit, si: number, { decimals }: Shown): string {
  const value = unit.fromSi(si);
  if (unit.sign === "AWG") return gaugeText(Math.round(value));
  if (decimals !== undefined) return trimmed(value, decimals);
  const onTape = kindFacts(kind).onTape && unit.sign === "in" && Math.abs(value) >= TAPE_FROM_IN;
  return onTape ? inchText(value, TAPE_PARTS) : formatNumber(value);
}

/**
 * A length in inches to the nearest part, as a mixed fraction in lowest terms.
 *
 * @param parts of an inch: 2, 4, 8, 16, 32 or 64
 * @example inchText(11.811, 16) // "11 13/16"
 */
export function inchText(inches: number, parts: number): string {
  const count = Math.round(Math.abs(inches) * parts);
  const sign = inches < 0 && count > 0 ? "−" : "";
  const whole = Math.floor(count / parts);
  let above = count % parts;
  let below = parts;
  while (above > 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const part = above === 0 ? "" : `${above}/${below}`;
  return `${sign}${[whole > 0 || part === "" ? String(whole) : "", part].filter(Boolean).join(" ")}`;
}

/**
 * A stored measure as a field is filled: read back by `parseMeasure`, it is the same again. In the system's own
 * unit where that takes four decimals at most, else in the unit it was measured in.
 *
 * @example fieldText("length", 38.1, "US") // "1 1/2"
 * @example fieldText("length", 300, "US") // "300 mm"
 */
export function fieldText(
  kind: MeasureKind,
  si: number | null | undefined,
  system: UnitSystem,
): string {
  if (si === null || si === undefined) return "";
  const own = enteredUnit(kind, system);
  const same = (text: string): boolean => {
    const read = parseMeasure(kind, text, system);
    return typeof read === "number" && Math.abs(read - si) <= 1e-9 * Math.abs(si);
  };
  const others = UNIT_SYSTEMS.flatMap((each) => kindFacts(kind)[each].shown.toReversed())
    .map((sign) => unitOf(kind, sign))
    .filter((unit) => unit !== own);
  const written = [own, ...others].flatMap((unit) =>
    writtenIn(kind, unit, si).map((text) => (unit === own ? text : `${text} ${unit.sign}`)),
  );
  return written.find(same) ?? inFull(kind, own, si);
}

/** To the last digit; a section that is no gauge has none in gauges. */
function inFull(kind: MeasureKind, own: MeasureUnit, si: number): string {
  if (own.sign !== "AWG") return String(own.fromSi(si));
  const metric = enteredUnit(kind, "METRIC");
  return `${String(metric.fromSi(si))} ${metric.sign}`;
}

/** Ways to write a value in one unit, the shortest first. */
function writtenIn(kind: MeasureKind, unit: MeasureUnit, si: number): readonly string[] {
  if (unit.sign === "AWG") return isGauge(si) ? [gaugeText(Math.round(unit.fromSi(si)))] : [];
  const value = unit.fromSi(si);
  const decimal = trimmed(value, 4);
  const isLength = unit.sign === "in" && (kind === "length" || kind === "thickness");
  return isLength ? [inchText(value, RULE_PARTS).replace("−", "-"), decimal] : [decimal];
}

/**
 * An estimate as a field is filled: rounded to what can be read off a rule or a scale.
 *
 * @example roughFieldText("length", 299.6, "METRIC") // "300"
 * @example roughFieldText("length", 299.6, "US") // "11 13/16"
 */
export function roughFieldText(kind: MeasureKind, si: number, system: UnitSystem): string {
  const unit = enteredUnit(kind, system);
  if (unit.sign === "AWG") return fieldText(kind, si, system);
  return numberIn(kind, unit, si, {}).replace("−", "-");
}

/** Whether a section is that of a whole gauge. */
function isGauge(si: number): boolean {
  const awg = unitOf("section", "AWG");
  const gauge = Math.round(awg.fromSi(si));
  if (gauge < -3 || gauge > 40) return false;
  return Math.abs(awg.toSi(gauge) / si - 1) < SAME_GAUGE;
}

const trimmed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return String(Number(text));
};
