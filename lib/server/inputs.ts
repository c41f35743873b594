/** Pieces of form schemas: what people type, turned into what services take, with errors that say what was expected. */
import { z } from "zod";
import {
  enteredUnit,
  formatMeasures,
  isAmbiguousNumber,
  type MeasureKind,
  parseMeasure,
  plainNumber,
  TYPE_WITHOUT_COMMA,
  type UnitSystem,
} from "@/lib/units";

/** PostgreSQL keeps no NUL character, and nobody types one. */
const typeable = (typed: string): boolean => !typed.includes("\0");
const UNTYPEABLE = "This holds a character that cannot be kept.";

/** Text that must not be empty. */
export const text = (what: string, most = 200) =>
  z
    .string({ error: `Enter ${what}.` })
    .trim()
    .min(1, `Enter ${what}.`)
    .max(most, `At most ${most} characters.`)
    .refine(typeable, UNTYPEABLE);

/** Text that may be empty or missing. */
export const optionalText = (most = 2000) =>
  z
    .string()
    .trim()
    .max(most, `At most ${most} characters.`)
    .refine(typeable, UNTYPEABLE)
    .default("");

/** RFC 5321 lets an address be no longer (its path of 256 octets, less two brackets; from memory). */
const LONGEST_EMAIL = 254;

export const email = z
  .string({ error: "Enter an e-mail address." })
  .trim()
  .toLowerCase()
  .max(LONGEST_EMAIL, `At most ${LONGEST_EMAIL} characters.`)
  .pipe(z.email("Enter an e-mail address such as name@example.org."));

export const optionalEmail = z.union([z.literal(""), email]).default("");

const isWithin = (value: number, least: number, most: number): boolean =>
  Number.isFinite(value) && value >= least && value <= most;

const unambiguous = (typed: string): boolean => !isAmbiguousNumber(typed);

/**
 * A number typed with a point or a comma, within its range. Spaces may group the thousands; "1,234" is refused,
 * since a factor of a thousand is not to be guessed.
 *
 * @example numberFrom(0, 60, "V").parse("12,5") // 12.5
 */
export const numberFrom = (least: number, most: number, unit: string) =>
  z
    .string({ error: `Enter a number from ${least} to ${most} ${unit}.` })
    .trim()
    .min(1, `Enter a number from ${least} to ${most} ${unit}.`)
    .refine(unambiguous, TYPE_WITHOUT_COMMA)
    .transform(plainNumber)
    .refine((value) => isWithin(value, least, most), {
      error: `Expected a number from ${least} to ${most} ${unit}.`,
    });

/** The same, where nothing typed means null. */
export const optionalNumberFrom = (least: number, most: number, unit: string) =>
  z
    .string()
    .trim()
    .default("")
    .refine(unambiguous, TYPE_WITHOUT_COMMA)
    .transform((typed) => (typed === "" ? null : plainNumber(typed)))
    .refine((value) => value === null || isWithin(value, least, most), {
      error: `Expected a number from ${least} to ${most} ${unit}, or nothing.`,
    });

/**
 * A measure typed in either system, as its stored unit: a bare number counts in the system that the form was shown
 * in. Ranges are said in the units of the person who types.
 *
 * @param least and `most` in the kind's stored unit
 * @param units the system of the form, which it sends along (see `formAction`)
 * @example measureFrom("length", 1, 10_000, "US").parse("1 1/2") // 38.1
 */
export const measureFrom = (kind: MeasureKind, least: number, most: number, units: UnitSystem) => {
  const range = rangeWords(kind, least, most, units);
  return z
    .string({ error: `Enter a number ${range}.` })
    .trim()
    .min(1, `Enter a number ${range}.`)
    .transform((typed, context) => {
      const read = parseMeasure(kind, typed, units);
      if (typeof read === "number" && isWithin(read, least, most)) return read;
      const message = typeof read === "string" ? read : `Expected a number ${range}.`;
      context.addIssue({ code: "custom", message });
      return z.NEVER;
    });
};

/** The same, where nothing typed means null. */
export const optionalMeasureFrom = (
  kind: MeasureKind,
  least: number,
  most: number,
  units: UnitSystem,
) =>
  z
    .string()
    .trim()
    .default("")
    .transform((typed) => typed || null)
    .pipe(measureFrom(kind, least, most, units).nullable());

/** Where the unit of entry is no unit of length, such as a wire gauge, the range is in one that can be counted. */
function rangeWords(kind: MeasureKind, least: number, most: number, units: UnitSystem): string {
  const unit = enteredUnit(kind, units);
  if (unit.sign === "AWG") return `from ${formatMeasures(kind, [least, most], "METRIC", " to ")}`;
  const [low, high] = [least, most].map((si) => Number(unit.fromSi(si).toPrecision(4)));
  return `from ${low} to ${high} ${unit.sign}`;
}

/** A ticked box. */
export const ticked = z
  .string()
  .optional()
  .transform((value) => value !== undefined);

/** What a date field sends. Years before 1000 are slips of the finger. */
const DAY = /^[1-9]\d{3}-\d{2}-\d{2}$/;
const midnight = (typed: string): Date => new Date(`${typed}T00:00:00Z`);

/** A Date takes the 30th of February for the 2nd of March: only a day that reads back the same exists. */
function exists(typed: string): boolean {
  const at = midnight(typed);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(typed);
}

/** A day from a date field, as midnight UTC. */
export const day = z
  .string({ error: "Choose a day." })
  .regex(DAY, { error: "Choose a day.", abort: true })
  .refine(exists, { error: "Choose a day that exists." })
  .transform(midnight);

/** The same, where nothing chosen means null. */
export const optionalDay = z
  .string()
  .default("")
  .refine((typed) => typed === "" || DAY.test(typed), { error: "Choose a day.", abort: true })
  .refine((typed) => typed === "" || exists(typed), { error: "Choose a day that exists." })
  .transform((typed) => (typed === "" ? null : midnight(typed)));

export const id = z.uuid("This page is out of date. Open it again.");

/** A password as people may choose it. */
export const newPassword = z
  .string({ error: "Choose a password." })
  .min(10, "At least 10 characters.")
  .max(200, "At most 200 characters.");
