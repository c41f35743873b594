import { expect } from "vitest";
import { STANDINGS, type Worked } from "@/lib/units";

/**
 * What every figure that explains itself owes its reader: a name, a formula, inputs with names and values, where each
 * comes from, and a value within its own range. Words that are there must say something.
 */
export function expectWholeFigure(worked: Worked): void {
  const where = worked.name || JSON.stringify(worked);
  expect(worked.name, `name of ${where}`).toMatch(/\p{L}{2}/u);
  expect(Number.isFinite(worked.value), `value of ${where}`).toBe(true);
  expect(worked.low ?? worked.value, `low of ${where}`).toBeLessThanOrEqual(worked.value);
  expect(worked.high ?? worked.value, `high of ${where}`).toBeGreaterThanOrEqual(worked.value);
  expect(worked.formula, `formula of ${where}`).toMatch(/\S/);
  expect(STANDINGS, `standing of ${where}`).toContain(worked.standing);
  expect(worked.inputs.length, `inputs of ${where}`).toBeGreaterThan(0);
  for (const words of [worked.source, worked.note]) {
    if (words !== undefined) expect(words, `words of ${where}`).toMatch(/\p{L}{2}/u);
  }
  for (const input of worked.inputs) {
    const which = `${input.name || JSON.stringify(input)} of ${where}`;
    expect(input.name, `name of ${which}`).toMatch(/\p{L}/u);
    expect(STANDINGS, `standing of ${which}`).toContain(input.standing);
    expect(["number", "string"], `kind of value of ${which}`).toContain(typeof input.value);
    expect(String(input.value), `value of ${which}`).toMatch(/\S/);
    if (input.unit !== undefined) expect(input.unit, `unit of ${which}`).toMatch(/\S/);
    if (input.source !== undefined) expect(input.source, `source of ${which}`).toMatch(/\p{L}{2}/u);
    if (input.symbol !== undefined) expect(input.symbol, `symbol of ${which}`).toMatch(/\S/);
  }
  expect(JSON.parse(JSON.stringify(worked)), `${where} as stored`).toEqual(worked);
}

/** Every such figure anywhere in a result. */
export function figuresIn(result: unknown): readonly Worked[] {
  if (typeof result !== "object" || result === null) return [];
  if ("formula" in result && "standing" in result) return [result as Worked];
  return Object.values(result).flatMap(figuresIn);
}
