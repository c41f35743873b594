import { beforeAll, describe, expect, it } from "vitest";
import { BathField, Cancelled, lookAt } from "@/lib/field";
import { wholeLies } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import { type Candidate, tryTank } from "./candidate";
import { fieldBath, type FieldSubject } from "./field-bath";
import { findField, placeHours } from "./field-findings";
import { innerCandidates } from "./field-inner";
import type { FieldFindings } from "./field-types";
import { box, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";
import type { TankOption } from "./tank-option";

const CELLS = 12_000;

function subjectOf(part: PartDescription, tank: TankOption = tub): FieldSubject {
  const chosen: Candidate | string = tryTank(tank, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return { part, chosen };
}
const [BOX, CASTING] = [subjectOf(box), subjectOf(casting)];

/** Told as it goes on. */
const told: number[] = [];
let ofBox: FieldFindings;
let ofCasting: FieldFindings;
beforeAll(() => {
  ofBox = findField(BOX, { cells: CELLS, onProgress: (share) => told.push(share) });
  ofCasting = findField(CASTING, { cells: CELLS });
}, 120_000);

describe("a box of thin sheet", () => {
  it("lags far behind inside", () => {
    const { spread, hours, lagShare } = ofBox.planned;
    expect(ofBox.insideShare).toBeGreaterThan(0.4);
    expect(ofBox.insideShare).toBeLessThan(0.55);
    expect(spread.inside).toBeLessThan(0.6 * spread.outside);
    expect(hours.inside?.p50).toBeGreaterThan(1.5 * hours.outside.p50);
    expect(hours.worst).toEqual(hours.inside);
    expect(lagShare).toBeGreaterThan(0.1);
  });

  it("gains by what is hung inside, the most helpful first, with savings that add up", () => {
    const { innerAnodes, planned } = ofBox;
    expect(innerAnodes.length).toBeGreaterThanOrEqual(2);
    innerAnodes.forEach((inner, at) => {
      expect(inner.savesH).toBeCloseTo(planned.hours.worst.p50 - inner.hours.worst.p50, 9);
      expect(inner.savesH).toBeGreaterThan(0.05 * planned.hours.worst.p50);
      expect(inner.savesH).toBeLessThanOrEqual(innerAnodes[at - 1]?.savesH ?? Infinity);
      // More anode, nearer: more current, and more of it inside.
      expect(inner.currentA).toBeGreaterThan(planned.currentA);
      expect(inner.spread.inside).toBeGreaterThan(planned.spread.inside ?? Infinity);
      expect(inner.spread.outside).toBeLessThan(planned.spread.outside);
    });
  });

  it("has area and length near those of the shape and of a look at the same bath", () => {
    // Twice 420·200 + 2·(420 + 200)·180 mm², less what the walls take off inside.
    expect(ofBox.wetAreaM2).toBeGreaterThan(0.6);
    expect(ofBox.wetAreaM2).toBeLessThan(2 * (0.42 * 0.2 + 2 * 0.62 * 0.18));
    const look = lookAt(fieldBath(BOX), { cells: 8 * CELLS });
    const { value, error } = ofBox.shapeLengthM;
    expect(error).toBeGreaterThan(0);
    expect(error / value).toBeLessThan(0.1);
    expect(Math.abs(value / look.shapeLengthM - 1)).toBeLessThan(1e-3);
    expect(ofBox.cells).toBe(look.cells.length);
    expect(ofBox.planned.shapeLengthM).toBeCloseTo(value, 4);
    expect(ofBox.conductivitySPerM).toBe(BOX.chosen.bath.conductivitySPerM);
  });

  it("wears the anode at the wall all the way down", () => {
    expect(ofBox.wear.length).toBeGreaterThan(3);
    expect(ofBox.wear.at(-1)?.toM).toBeCloseTo(BOX.chosen.levelMm / 1000, 9);
    ofBox.wear.forEach(({ ratio }) => expect(ratio).toBeGreaterThan(0.2));
  });

  it("is plain: it comes back from JSON as it went", () => {
    expect(JSON.parse(JSON.stringify(ofBox))).toEqual(ofBox);
  });

  it("tells how far it is, from something to all, never less than before", () => {
    expect(told.length).toBeGreaterThan(2);
    expect(told[0]).toBeGreaterThan(0);
    expect(told).toEqual([...told].sort((one, other) => one - other));
    expect(told.at(-1)).toBe(1);
    expect(told.at(-2)).toBeLessThan(1);
  });
});

describe("an open casting", () => {
  it("has nothing inside, and nothing to hang there", () => {
    expect(ofCasting.innerAnodes).toEqual([]);
    expect(ofCasting.planned.spread.inside).toBeNull();
    expect(ofCasting.planned.hours.inside).toBeNull();
    expect(ofCasting.planned.hours.worst).toEqual(ofCasting.planned.hours.outside);
    expect(ofCasting.insideShare).toBeLessThan(0.1);
  });
});

describe("a broad flat dish", () => {
  it("has room for a rod in its middle that hardly helps: that is not told of", () => {
    const tank = { ...tub, bath: { carbonateG: 600, bicarbonateG: 0, volumeL: 130 } };
    const dish = subjectOf({ ...box, lengthMm: 600, widthMm: 330, heightMm: 70 }, tank);
    const field = new BathField(fieldBath(dish), 20_000);
    const tried = innerCandidates(dish, field).map(({ words }) => words);
    field.release();
    const told = findField(dish, { cells: 20_000 }).innerAnodes.map(({ words }) => words);
    const left = tried.filter((words) => !told.includes(words));
    expect(left).toEqual([expect.stringMatching(/^A rod .* upright in the middle/)]);
    expect(told).toHaveLength(tried.length - 1);
  });
});

describe("ways to lie", () => {
  it.each([
    ["box", () => ofBox, BOX],
    ["casting", () => ofCasting, CASTING],
  ] as const)(
    "are all that fit, the plan's own marked once, the quickest first: %s",
    (_, of, subject) => {
      const { turns, planned } = of();
      const { part, chosen } = subject;
      const lies = wholeLies(part, tub.shape, millimetres(tub.workingLevelMm), tub.clearanceMm);
      expect(lies.length).toBeGreaterThan(1);
      expect(turns).toHaveLength(lies.length);
      const own = turns.filter((turn) => turn.planned);
      expect(own).toEqual([
        {
          ...{ words: chosen.fit.words, planned: true },
          ...{ hours: planned.hours.worst, shapeLengthM: planned.shapeLengthM },
        },
      ]);
      const hours = turns.map((turn) => turn.hours.p50);
      expect(hours).toEqual([...hours].sort((one, other) => one - other));
      expect(new Set(turns.map(({ words }) => words)).size).toBe(turns.length);
      for (const { words } of turns.filter((turn) => !turn.planned)) {
        expect(words).toMatch(/^{\d+ mm} along, {\d+ mm} across, {\d+ mm} high\.$/);
      }
    },
  );
});

describe("work that is told to end", () => {
  it("ends before it begins, and between its steps", () => {
    expect(() => findField(CASTING, { cells: 8000, cancel: { cancelled: true } })).toThrow(
      Cancelled,
    );
    const cancel = { cancelled: false };
    const steps: number[] = [];
    const onProgress = (share: number): void => {
      steps.push(share);
      cancel.cancelled = true;
    };
    expect(() => findField(CASTING, { cells: 8000, cancel, onProgress })).toThrow(Cancelled);
    expect(steps).toHaveLength(1);
  });

  it("ends on the finer grid too, which takes longest", () => {
    let looks = 0;
    const counting = {
      get cancelled(): boolean {
        looks += 1;
        return looks > most;
      },
    };
    let most = Infinity;
    const coarse = new BathField(fieldBath(CASTING), 8000, counting);
    coarse.shapeLength();
    coarse.release();
    // Told right after the coarser grid is solved.
    most = looks;
    looks = 0;
    const steps: number[] = [];
    const onProgress = (share: number): void => void steps.push(share);
    expect(() => findField(CASTING, { cells: 8000, cancel: counting, onProgress })).toThrow(
      Cancelled,
    );
    expect(steps).toEqual([]);
  });
});

describe("hours of a place", () => {
  const hoursAt = placeHours(CASTING);

  it("fall as the density rises, and are without end where nothing flows", () => {
    const ratios = [0.01, 0.05, 0.2, 0.5, 0.75, 1, 1.5];
    const hours = ratios.map(hoursAt);
    expect(hours).toEqual([...hours].sort((one, other) => other - one));
    expect(hours[0]).toBeGreaterThan(hours.at(-1) ?? Infinity);
    for (const none of [0, -0.1, NaN]) expect(hoursAt(none)).toBe(Infinity);
  });

  it("are those of the slowest tenth at its density", () => {
    const { spread, currentA, hours } = ofCasting.planned;
    // At the plan's own current, and density below which more cleans more, time goes as 1 over density.
    const slow = hoursAt(0.2);
    expect(slow / hoursAt(0.1)).toBeCloseTo(0.5, 9);
    // The planned arrangement: its slowest tenth, at the field's current.
    const density = (CASTING.chosen.band.mid.currentA / CASTING.chosen.wetAreaM2) * spread.outside;
    const field = (currentA / CASTING.chosen.wetAreaM2) * spread.outside;
    const own = hoursAt(0.75 * spread.outside);
    expect(own * Math.min(density, 15)).toBeCloseTo(hours.outside.p50 * Math.min(field, 15), 6);
  });
});
