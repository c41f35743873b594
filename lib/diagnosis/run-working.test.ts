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
    expect(charge).toMatchObject({ unit: "A·h", standing: "measured here" });
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

describe("a run that was loaded at another hour", () => {
  const later = (run: RunSpan, hours: number): RunSpan => ({
    ...run,
    readings: run.readings.map((one) => ({ ...one, atMs: one.atMs + hours * HOUR })),
    loadedMs: run.loadedMs + hours * HOUR,
    untilMs: run.untilMs + hours * HOUR,
  });
  const supply = { efficiency: 1, openVoltageV: 12.6 };

  it.each([span([]), span([reading(3, 1), reading(1, 3), reading(2, 5, 11)])])(
    "is the same run: only hours since loading count",
    (run) => {
      expect(workedCharge(later(run, 10))).toEqual(workedCharge(run));
      expect(workedHoursLeft(later(run, 10), 20)).toEqual(workedHoursLeft(run, 20));
      expect(workedEnergy(later(run, 10), supply)).toEqual(workedEnergy(run, supply));
    },
  );

  it("shows its hours under current", () => {
    const time = workedCharge(later(span([]), 10)).inputs.find(({ symbol }) => symbol === "t");
    expect(time).toMatchObject({ value: 4, unit: "h", standing: "measured here" });
  });
});

describe("where figures of a run come from", () => {
  const supply = { efficiency: 1, openVoltageV: 12.6 };
  const read = span([reading(3, 1), reading(1, 3)]);

  it("is the run's own readings, in words", () => {
    expect(workedCharge(read).source).toMatch(/readings of this run/);
    expect(workedCharge(read).note).toMatch(/flowed since loading.*wrong way round counts as none/);
    expect(workedEnergy(read, supply).source).toMatch(/readings of this run/);
    expect(workedEnergy(span([]), supply).note).toMatch(/Nobody read the meter/);
    for (const { standing } of workedCharge(read).inputs) expect(standing).toBe("measured here");
  });

  it("is a measurement or the plan's assumption, whichever it rests on", () => {
    const standings = (run: RunSpan) =>
      workedHoursLeft(run, 10)?.inputs.map(({ symbol, standing, unit }) => [
        symbol,
        standing,
        unit,
      ]);
    expect(standings(read)).toEqual([
      ["Q_wanted", "assumption", "A·h"],
      ["Q", "measured here", "A·h"],
      ["I", "measured here", "A"],
    ]);
    expect(standings(span([]))).toEqual([
      ["Q_wanted", "assumption", "A·h"],
      ["Q", "assumption", "A·h"],
      ["I", "assumption", "A"],
    ]);
    expect(workedHoursLeft(read, 10)?.note).toMatch(/The part decides/);
  });

  it("counts volts that stood the wrong way round as none, and takes a supply without losses", () => {
    const turned = span([reading(0, 2, -12), reading(4, 2, -12)]);
    expect(workedEnergy(turned, supply).value).toBe(0);
    expect(workedEnergy(span([reading(0, 2), reading(4, 2)]), supply).value).toBeCloseTo(0.096, 12);
    const inputs = workedEnergy(span([]), supply).inputs.map(({ value, unit }) => [value, unit]);
    expect(inputs).toEqual([
      [8, "A·h"],
      [12.6, "V"],
      [1, undefined],
    ]);
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
