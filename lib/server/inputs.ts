/** Pieces of form schemas: what people type, turned into what services take, with errors that say what was expected. */
import { z } from "zod";

/** Text that must not be empty. */
export const text = (what: string, most = 200) =>
  z
    .string({ error: `Enter ${what}.` })
    .trim()
    .min(1, `Enter ${what}.`)
    .max(most, `At most ${most} characters.`);

/** Text that may be empty or missing. */
export const optionalText = (most = 2000) =>
  z.string().trim().max(most, `At most ${most} characters.`).default("");

export const email = z
  .string({ error: "Enter an e-mail address." })
  .trim()
  .toLowerCase()
  .pipe(z.email("Enter an e-mail address such as name@example.org."));

export const optionalEmail = z.union([z.literal(""), email]).default("");

const plainNumber = (typed: string): number =>
  Number(
    typed
      .trim()
      .replace(/[\s\u00a0\u202f]/g, "")
      .replace(",", "."),
  );

/** A number typed with a point or a comma, within its range. */
export const numberFrom = (least: number, most: number, unit: string) =>
  z
    .string({ error: `Enter a number from ${least} to ${most} ${unit}.` })
    .trim()
    .min(1, `Enter a number from ${least} to ${most} ${unit}.`)
    .transform(plainNumber)
    .refine((value) => Number.isFinite(value) && value >= least && value <= most, {
      error: `Expected a number from ${least} to ${most} ${unit}.`,
    });

/** The same, where nothing typed means null. */
export const optionalNumberFrom = (least: number, most: number, unit: string) =>
  z
    .string()
    .trim()
    .default("")
    .transform((typed) => (typed === "" ? null : plainNumber(typed)))
    .refine(
      (value) => value === null || (Number.isFinite(value) && value >= least && value <= most),
      {
        error: `Expected a number from ${least} to ${most} ${unit}, or nothing.`,
      },
    );

/** A ticked box. */
export const ticked = z
  .string()
  .optional()
  .transform((value) => value !== undefined);

/** A day from a date field, as midnight UTC. */
export const day = z
  .string({ error: "Choose a day." })
  .regex(/^\d{4}-\d{2}-\d{2}$/, "Choose a day.")
  .transform((typed) => new Date(`${typed}T00:00:00Z`))
  .refine((value) => !Number.isNaN(value.getTime()), { error: "Choose a day that exists." });

export const optionalDay = z
  .string()
  .default("")
  .refine((typed) => typed === "" || /^\d{4}-\d{2}-\d{2}$/.test(typed), { error: "Choose a day." })
  .transform((typed) => (typed === "" ? null : new Date(`${typed}T00:00:00Z`)));

export const id = z.uuid("This page is out of date. Open it again.");

/** A password as people may choose it. */
export const newPassword = z
  .string({ error: "Choose a password." })
  .min(10, "At least 10 characters: a few words are easy to keep in mind.")
  .max(200, "At most 200 characters.");
