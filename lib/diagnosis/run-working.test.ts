import { expectWholeFigure } from "@/test/support/worked-contract";
import { describe, expect, it } from "vitest";
import type { RunReading } from "./expectation";
import { type RunSpan, workedCharge, workedEnergy, workedHoursLeft } from "./run-working";

const HOUR = 3_600_000;

const reading = (hours: number, currentA: number, voltsV = 12): RunReading => ({
  atMs: hours * HOUR,
  currentA,
  voltsV,
  temperatureC: null,
  levelMm: null,
});

const span = (readings: readonly RunReading[], hours = 4): RunSpan => ({
  readings,
  plannedCurrentA: 2,
  loadedMs: 0,
  untilMs: hours * HOUR,
});

describe("charge with its working", () => {
  it("takes the planned current while nobody read the meter, and says so", () => {
    const charge = workedCharge(span([]));
    expect(charge).toMatchObject({ value: 8, unit: "A·h", standing: "assumption" });
    expect(charge.note).toMatch(/planned current/);
    expect(charge.inputs.map(({ symbol, value }) => [symbol, value])).toEqual([
      ["I", 2],
      ["t", 4],
    ]);
  });

  it("adds trapezia between readings, in any order", () => {
    // 3 A for 1 h, from 3 A to 1 A in 2 h, 1 A for 1 h: 3 + 4 + 1.
    const charge = workedCharge(span([reading(3, 1), reading(1, 3)]));
    expect(charge.value).toBeCloseTo(8, 12);
    expect(charge.standing).toBe("measured here");
    expect(charge.inputs.slice(1).map(({ name, value }) => [name, value])).toEqual([
      ["reading 1.0 h after loading", "3.0 A"],
      ["reading 3.0 h after loading", "1.0 A"],
    ]);
  });

  it("counts what flowed the wrong way round as none", () => {
    expect(workedCharge(span([reading(0, -3), reading(4, -3)])).value).toBe(0);
  });

  it("shows the last six readings of many", () => {
    const many = Array.from({ length: 9 }, (_, index) => reading(index / 2, 2));
    const shown = workedCharge(span(many)).inputs.slice(1);
    expect(shown).toHaveLength(6);
    expect(shown.at(-1)?.name).toBe("reading 4.0 h after loading");
  });

  it("refuses a run that ends before it was loaded", () => {
    expect(() => workedCharge({ ...span([reading(0, 1)]), untilMs: -1 })).toThrow(/loading/);
  });
});

describe("hours left", () => {
  it("is what is left over the last reading's current", () => {
    const left = workedHoursLeft(span([reading(3, 1), reading(1, 3)]), 10);
    expect(left).toMatchObject({ value: 2, unit: "h" });
    expect(left?.inputs.map(({ symbol, value }) => [symbol, value])).toEqual([
      ["Q_wanted", 10],
      ["Q", 8],
      ["I", 1],
    ]);
  });

  it("goes by the plan while nobody read the meter", () => {
    const left = workedHoursLeft(span([]), 10);
    expect(left?.value).toBe(1);
    expect(left?.inputs.at(-1)?.source).toMatch(/plans/);
  });

  it("is nothing once the charge has passed", () => {
    expect(workedHoursLeft(span([]), 8)?.value).toBe(0);
    expect(workedHoursLeft(span([]), 7)?.value).toBe(0);
  });

  it("is unknown where no current flows", () => {
    expect(workedHoursLeft(span([reading(1, 0)]), 10)).toBeNull();
  });
});

describe("energy at the wall", () => {
  const supply = { efficiency: 0.75, openVoltageV: 12.6 };

  it("adds volts times amperes between readings, over what the supply loses", () => {
    // 24 W and then 24 W for 4 h: 0.096 kW·h at the output.
    const energy = workedEnergy(span([reading(0, 2), reading(4, 2)]), supply);
    expect(energy.value).toBeCloseTo(0.128, 12);
    expect(energy).toMatchObject({ unit: "kW·h", standing: "measured here" });
    expect(energy.inputs.at(-1)?.value).toBe("12.0 V, 2.0 A");
  });

  it("takes planned current and open voltage while nobody read the meter", () => {
    const energy = workedEnergy(span([]), supply);
    expect(energy.value).toBeCloseTo((8 * 12.6) / 1000 / 0.75, 12);
    expect(energy.standing).toBe("assumption");
    expect(energy.inputs.map(({ symbol }) => symbol)).toEqual(["Q", "U", "η"]);
  });

  it.each([0, -0.1, 1.01, Number.NaN])("refuses an efficiency of %s", (efficiency) => {
    expect(() => workedEnergy(span([]), { ...supply, efficiency })).toThrow(/efficiency.*share/);
  });
});

describe("figures of a run", () => {
  const supply = { efficiency: 0.75, openVoltageV: 12.6 };
  it.each([span([]), span([reading(1, 3), reading(3, 1)])])("are whole", (run) => {
    for (const figure of [workedCharge(run), workedHoursLeft(run, 10), workedEnergy(run, supply)]) {
      if (!figure) throw new Error("a figure is missing");
      expectWholeFigure(figure);
    }
  });
});
