import { z } from "zod";

/** Rows that one form holds; further ones come when these are done. */
export const SLOTS = 60;

/** Name of a field of one row, so that a refusal can mark that row's alone. */
export const slot = (field: string, index: number): string => `${field}-${index}`;

/** Schema pieces of every row's field, read as typed; empty where the form has no such row. */
export function slotFields(
  ...fields: readonly string[]
): Record<string, z.ZodDefault<z.ZodString>> {
  const typed = z.string().trim().max(200, "At most 200 characters.").default("");
  const shape: Record<string, z.ZodDefault<z.ZodString>> = {};
  for (const field of fields) {
    for (let index = 0; index < SLOTS; index += 1) shape[slot(field, index)] = typed;
  }
  return shape;
}

/** What was typed in a field of one row; zod's types know fixed names only. */
export function typedAt(form: object, field: string, index: number): string {
  const value: unknown = Reflect.get(form, slot(field, index));
  return typeof value === "string" ? value : "";
}
