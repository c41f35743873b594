import { ANODE, anodeBetween, operatingPoint } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import { type Cause, CAUSES } from "./causes";
import { type Circumstance, modelOf, onsets } from "./families";
import { EXPECTED, TUB } from "./fixtures";
import { type Way, waysOf } from "./ways";

const at = (hours: number, change: Partial<Circumstance> = {}): Circumstance => ({
  hours,
  warmth: 1,
  levelShare: 1,
  ...change,
});
const READINGS = [at(0.5), at(2), at(4), at(5)];
const model = modelOf(EXPECTED, READINGS, false);
const ways = waysOf(model);
const of = (cause: Cause): readonly Way[] => ways.filter((way) => way.cause === cause);
const ampsOf = (way: Way | undefined, x: number, s: number): number[] =>
  (way?.family.predict(x, s) ?? []).map(({ lnAmps }) => Math.exp(lnAmps));

describe("waysOf", () => {
  it.each(CAUSES.filter((cause) => cause !== "SOMETHING_ELSE" && cause !== "REVERSED"))(
    "gives %s ways whose shares add up to 1",
    (cause) => {
      const total = of(cause).reduce((sum, { share }) => sum + share, 0);
      expect(total).toBeCloseTo(1, 9);
    },
  );

  it("gives every family the slopes of its own predictions", () => {
    const step = 1e-5;
    for (const { cause, family } of ways) {
      const [x, s] = [0.03, family.s.deviation === 0 ? 0 : family.s.mean + 0.11];
      const here = family.predict(x, s);
      const byX = family.predict(x + step, s);
      const byS = family.predict(x, s + step);
      here.forEach((told, index) => {
        const slope = (other: typeof here, key: "lnAmps" | "lnVolts"): number =>
          ((other[index]?.[key] ?? 0) - told[key]) / step;
        expect(slope(byX, "lnAmps"), cause).toBeCloseTo(told.ampsByX, 2);
        expect(slope(byX, "lnVolts"), cause).toBeCloseTo(told.voltsByX, 2);
        if (family.s.deviation === 0) return;
        expect(slope(byS, "lnAmps"), cause).toBeCloseTo(told.ampsByS, 2);
        expect(slope(byS, "lnVolts"), cause).toBeCloseTo(told.voltsByS, 2);
      });
    }
  });

  it("says of a sound tank what its operating point says, whatever its anode does", () => {
    const exact = [ANODE.PASSIVE, anodeBetween(0.2), ANODE.ACTIVE].map(
      (anode) => operatingPoint(TUB, anode).currentA,
    );
    of("AS_IT_SHOULD")
      .slice(0, 3)
      .forEach((way, kind) => {
        for (const amps of ampsOf(way, 0, 0)) expect(amps / (exact[kind] ?? 0)).toBeCloseTo(1, 2);
      });
    const settling = ampsOf(of("AS_IT_SHOULD")[3], 0, 0);
    expect(settling).toEqual([...settling].sort((one, other) => other - one));
    expect((settling[0] ?? 0) / (settling[3] ?? 0)).toBeGreaterThan(1.03);
  });

  it("halves the conductivity of a weak bath and doubles that of a strong one at severity 0", () => {
    const passive = (conductivitySPerM: number): number =>
      operatingPoint({ ...TUB, conductivitySPerM }, ANODE.PASSIVE).currentA;
    expect(ampsOf(of("BATH_WEAK")[0], 0, 0)[0]).toBeCloseTo(passive(0.25), 1);
    expect(ampsOf(of("BATH_STRONG")[0], 0, 0)[0]).toBeCloseTo(passive(1), 1);
  });

  it("lets a level that was read, and warmth, act in every bath", () => {
    const read = modelOf(EXPECTED, [at(1, { levelShare: 0.5 }), at(2, { warmth: 2 })], true);
    const [sound] = waysOf(read);
    const passive = (conductivitySPerM: number): number =>
      operatingPoint({ ...TUB, conductivitySPerM }, ANODE.PASSIVE).currentA;
    const [low, warm] = ampsOf(sound, 0, 0);
    expect(low).toBeCloseTo(passive(0.25), 1);
    expect(warm).toBeCloseTo(passive(1), 1);
    const fallen = waysOf(read).filter(({ cause }) => cause === "LEVEL_FALLEN");
    expect(fallen.every(({ family }) => family.s.deviation === 0)).toBe(true);
  });

  it("has a film close ever more slowly, and a lead fail ever faster", () => {
    const lost = (way: Way | undefined): number[] => ampsOf(way, 0, 0.5).map((amps) => 1 / amps);
    const [film = 0, filmLater = 0, , filmLast = 0] = lost(of("ANODE_PASSIVE")[0]);
    expect(filmLater - film).toBeGreaterThan(filmLast - filmLater);
    const [lead = 0, leadLater = 0, , leadLast = 0] = lost(of("LEAD_CORRODED")[0]);
    expect(leadLast - leadLater).toBeGreaterThan(10 * (leadLater - lead));
  });

  it("has a poor contact flicker from its onset on, and not before", () => {
    const late = of("POOR_CONTACT").at(-1)?.family.predict(0, 0) ?? [];
    expect(late.slice(0, 3).every(({ flickerAmps }) => flickerAmps === 0)).toBe(true);
    // Half of the resistance flickers by 0.6: ln amps by nearly 0.3.
    expect(Math.sqrt(late[3]?.flickerAmps ?? 0)).toBeGreaterThan(0.2);
    expect(Math.sqrt(late[3]?.flickerAmps ?? 0)).toBeLessThan(0.3);
  });

  it("shows full volts with an open lead, and none without a supply", () => {
    const [open] = of("LEAD_OPEN")[0]?.family.predict(0, 0) ?? [];
    const [off] = of("SUPPLY_OFF")[0]?.family.predict(0, 0) ?? [];
    expect(Math.exp(open?.lnVolts ?? 0)).toBeCloseTo(13.8, 9);
    expect(Math.exp(open?.lnAmps ?? 0)).toBeCloseTo(0.05, 9);
    expect(Math.exp(off?.lnVolts ?? 0)).toBeCloseTo(0.3, 9);
  });
});

describe("onsets", () => {
  it("are before the first reading, or between two by the hours between them", () => {
    const all = onsets(model, 0.4);
    expect(all.map(({ hour }) => hour)).toEqual([Number.NEGATIVE_INFINITY, 1.25, 3, 4.5]);
    expect(all.map(({ share }) => share)).toEqual([
      0.4,
      expect.closeTo(0.2, 9),
      expect.closeTo((0.6 * 2) / 4.5, 9),
      expect.closeTo(0.6 / 4.5, 9),
    ]);
  });

  it("are before the first where there is one reading, or two at one instant", () => {
    const single = [{ share: 1, hour: Number.NEGATIVE_INFINITY }];
    expect(onsets(modelOf(EXPECTED, [at(1)], false), 0.4)).toEqual(single);
    expect(onsets(modelOf(EXPECTED, [at(1), at(1)], false), 0.4)).toEqual(single);
    expect(onsets(modelOf(EXPECTED, [at(1), at(1), at(2)], false), 0.4)).toHaveLength(2);
  });
});
