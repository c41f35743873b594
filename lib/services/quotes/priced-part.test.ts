import { describe, expect, it } from "vitest";
import type { QuotablePart } from "@/lib/data";
import { pricedPart } from "./priced-part";

const plan = {
  version: 1,
  areaM2: 0.05,
  solutionL: 100,
  saltG: 500,
  hoursP50: 5,
  hoursP90: 9,
  chargeAh: 10,
  anodeLossG: 1.6,
  energyKwh: 0.2,
  dipCount: 1,
  result: { hours: { p10: 3, p50: 5, p90: 9 }, freshMix: true, reliefBake: null },
} as unknown as NonNullable<QuotablePart["plan"]>;

const part: QuotablePart = {
  id: "a",
  mark: "A",
  description: "gate hinge",
  quantity: 2,
  state: "PLANNED",
  goal: "RUST_ONLY",
  coatings: [],
  bookedFrom: null,
  verdict: null,
  plan,
};
const BERLIN = { unitSystem: "METRIC", timeZone: "Europe/Berlin" } as const;

describe("pricedPart", () => {
  it("counts what each piece takes for each, and hours and loading once", () => {
    const priced = pricedPart(part, BERLIN);
    expect(priced).toMatchObject({ quantity: 2, runs: 1, hoursP10: 3, hoursP50: 5, hoursP90: 9 });
    expect(priced.areaM2).toBeCloseTo(0.1, 12);
    expect(priced.energyKwh).toBeCloseTo(0.4, 12);
    expect(priced.label).toBe("A: 2 × gate hinge");
  });

  it("says by the shop's clock when a booked load begins, and nothing where none is booked", () => {
    expect(pricedPart(part, BERLIN)).not.toHaveProperty("startMinute");
    // Monday 7 January 2030, 09:30 UTC, is 10:30 in Berlin: 10 × 60 + 30 minutes into the week.
    const booked = { ...part, bookedFrom: new Date("2030-01-07T09:30:00Z") };
    expect(pricedPart(booked, BERLIN).startMinute).toBe(630);
  });

  it("refuses a part without a plan", () => {
    expect(() => pricedPart({ ...part, plan: null }, BERLIN)).toThrow(RangeError);
  });
});
