import { describe, expect, it } from "vitest";
import { box, bucket, casting, tub, workshop } from "./fixtures";
import { type PartDescription } from "./part";
import { planPart, type TreatmentPlan } from "./plan";
import type { TankOption, Workshop } from "./tank-option";

const planOf = (
  tank: TankOption,
  part: PartDescription = casting,
  there: Workshop = workshop,
): TreatmentPlan => {
  const answer = planPart({ part, tanks: [tank], workshop: there });
  if (!answer.planned) throw new Error(answer.notTaken[0]?.why);
  return answer.plan;
};
const about = (warnings: readonly string[], words: RegExp): string | undefined =>
  warnings.find((warning) => words.test(warning));

const strongBath = (tank: TankOption, carbonateG: number): TankOption => ({
  ...tank,
  bath: { carbonateG, bicarbonateG: 0, volumeL: 100 },
});

describe("warnings of a plan", () => {
  it("are none for a casting in an everyday tub", () => {
    expect(planOf(tub).warnings).toEqual([]);
  });

  it("name the share of what the supply carries when a strong bath overloads it", () => {
    const small: TankOption = {
      ...strongBath(tub, 6000),
      supply: {
        kind: "CHARGER",
        openVoltageV: 13.8,
        innerResistanceOhm: 0.12,
        ratedCurrentA: 5,
        dutyFactor: 0.8,
      },
    };
    const plan = planOf(small);
    expect(plan.ratingShare).toBeGreaterThan(1);
    expect(about(plan.warnings, /would run at/)).toContain(
      `${Math.round(plan.ratingShare * 100)} %`,
    );
  });

  it("tell a supply that may trip from one that only runs hot", () => {
    const near = (overCurrent: "SAGS" | "TRIPS"): TankOption => {
      const { currentA } = planOf(tub);
      // Rated between the middle and the top of the band; the duty factor keeps the middle within.
      const ratedCurrentA = (currentA.mid + currentA.high) / 2;
      return {
        ...tub,
        bath: { carbonateG: planOf(tub).figures.saltG.value, bicarbonateG: 0, volumeL: 113 },
        supply: {
          kind: "CHARGER",
          openVoltageV: 13.8,
          innerResistanceOhm: 0.12,
          ratedCurrentA,
          dutyFactor: 1,
          overCurrent,
        },
      };
    };
    expect(about(planOf(near("TRIPS")).warnings, /switch itself off/)).toBeDefined();
    expect(about(planOf(near("SAGS")).warnings, /overloaded at first/)).toBeDefined();
    expect(about(planOf(near("SAGS")).warnings, /switch itself off/)).toBeUndefined();
  });

  it("refuse a tank whose supply trips outright", () => {
    const trips: TankOption = {
      ...strongBath(tub, 6000),
      supply: {
        kind: "CHARGER",
        openVoltageV: 13.8,
        innerResistanceOhm: 0.12,
        ratedCurrentA: 5,
        dutyFactor: 0.8,
        overCurrent: "TRIPS",
      },
    };
    const answer = planPart({ part: casting, tanks: [trips], workshop });
    if (answer.planned) throw new Error("planned on a supply that trips");
    expect(answer.notTaken[0]?.why).toMatch(/switch itself off/);
  });

  it("reckon with how long a battery lasts", () => {
    const onBattery = (capacityAh: number): TankOption => ({
      ...tub,
      supply: { kind: "BATTERY", openVoltageV: 12.6, innerResistanceOhm: 0.02, capacityAh },
    });
    const plan = planOf(onBattery(30), { ...casting, rustGrade: "D" });
    const hours = (0.5 * 30) / plan.currentA.mid;
    expect(hours).toBeLessThan(plan.hours.p90);
    expect(about(plan.warnings, /battery/)).toContain(`${hours.toFixed(1)} h`);
    expect(about(planOf(onBattery(2000)).warnings, /battery/)).toBeUndefined();
  });

  it("name thin leads, by the top of the band", () => {
    const thin = planOf({ ...tub, leadAreaMm2: 1.5 });
    expect(about(thin.warnings, /leads of {1.5 mm²} are thin/)).toMatch(/0 A/);
    expect(about(planOf({ ...tub, leadAreaMm2: 6 }).warnings, /leads/)).toBeUndefined();
  });

  it("name the temperature at which a strong bath drops crystals", () => {
    const strong = planOf(strongBath({ ...tub, bath: null }, 12_000), casting, {
      ...workshop,
      temperatureC: 20,
    });
    expect(about(strong.warnings, /drops crystals below {\d+ °C}/)).toBeDefined();
    const cold = planOf(tub, casting, { ...workshop, temperatureC: 4 });
    expect(about(cold.warnings, /cold bath conducts badly/)).toBeDefined();
    expect(
      about(planOf(tub, casting, { ...workshop, temperatureC: 5 }).warnings, /cold/),
    ).toBeUndefined();
  });

  it("ask for water and soda in grams and litres", () => {
    const low = planOf({ ...tub, bath: { carbonateG: 5, bicarbonateG: 0, volumeL: 80 } });
    expect(about(low.warnings, /fill up with about {\d+ L} of plain water/)).toBeDefined();
    expect(about(low.warnings, /The bath is weak: add {\d+ g}/)).toBeDefined();
  });

  it("say what all pieces together would draw", () => {
    const six = planOf(bucket, { ...casting, quantity: 6 });
    const words = about(six.warnings, /All 6 in one load/);
    const drawn = Number(/about ([\d.]+) A/.exec(words ?? "")?.[1]);
    expect(drawn).toBeGreaterThan(six.currentA.mid);
    expect(drawn).toBeLessThan(6 * six.currentA.mid);
    expect(about(planOf(bucket, casting).warnings, /in one load/)).toBeUndefined();
  });

  it("say where the part gets hardly any current, or mostly gas", () => {
    const starved = planOf({ ...tub, contactOhm: 400 }, box);
    expect(about(starved.warnings, /Less than {1 A\/m²}/)).toBeDefined();
    const bolt: PartDescription = {
      ...casting,
      lengthMm: 60,
      widthMm: 20,
      heightMm: 20,
      massG: 120,
    };
    const driven = planOf(strongBath(tub, 6000), bolt);
    expect(about(driven.warnings, /More than {50 A\/m²}/)).toBeDefined();
  });
});
