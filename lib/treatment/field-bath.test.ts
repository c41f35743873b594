import { anodeBetween, CATHODE } from "@/lib/electrolysis";
import { type Bathful, boxOf, moved, type Polarisation, tafel } from "@/lib/field";
import type { Fit, Lie, TankShape } from "@/lib/tanks";
import { describe, expect, it } from "vitest";
import { type Candidate, tryTank } from "./candidate";
import { fieldBath, fieldDrive, type FieldSubject, innerRod } from "./field-bath";
import { box, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";

const chosenFor = (part: PartDescription): Candidate => {
  const chosen = tryTank(tub, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return chosen;
};
const CHOSEN = chosenFor(casting);
const fitOf = (lie: Lie): Extract<Fit, { fits: true }> => ({ fits: true, lie, words: "As laid." });
const subject = (
  lie: Lie,
  part: PartDescription = casting,
  change: Partial<Candidate> = {},
): FieldSubject => ({ part, chosen: { ...CHOSEN, levelMm: 400, fit: fitOf(lie), ...change } });
const whole = (along: number, across: number, up: number): Lie => ({
  kind: "WHOLE",
  along,
  across,
  up,
});

/** The box round the part as it hangs, m: least and most of each measure. */
function hanging({ parts }: Bathful) {
  const [part] = parts;
  if (!part || parts.length > 1) throw new Error("one part hangs");
  return boxOf(moved(part.mesh, part.pose));
}
const spans = (bath: Bathful): number[] => {
  const { least, most } = hanging(bath);
  return [0, 1, 2].map((axis) => 1000 * ((most[axis] ?? 0) - (least[axis] ?? 0)));
};
const middle = (bath: Bathful): number[] => {
  const { least, most } = hanging(bath);
  return [0, 1, 2].map((axis) => 500 * ((most[axis] ?? 0) + (least[axis] ?? 0)));
};
const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 6));

describe("the part in its bath", () => {
  it.each([
    [250, 65, 45],
    [250, 45, 65],
    [65, 250, 45],
    [65, 45, 250],
    [45, 250, 65],
    [45, 65, 250],
  ])("lies as the plan has it: %d mm along, %d across, %d up", (along, across, up) => {
    const bath = fieldBath(subject(whole(along, across, up)));
    expect(spans(bath)).toEqual(close([along, across, up]));
    // Half-way between floor and level, in the middle of the tank.
    expect(middle(bath)).toEqual(close([0, 0, 200]));
  });

  it("is moved to another place at the same height", () => {
    const bath = fieldBath(subject(whole(250, 65, 45)), { alongMm: 80, acrossMm: -30 });
    expect(middle(bath)).toEqual(close([80, -30, 200]));
  });

  it("lies tilted, its far end up, and wholly under the bath", () => {
    const tiltDegrees = 40;
    const [c, s] = [Math.cos((40 * Math.PI) / 180), Math.sin((40 * Math.PI) / 180)];
    const lie: Lie = { kind: "TILTED", tiltDegrees, along: 450, across: 65, up: 45 };
    const long: PartDescription = { ...casting, lengthMm: 450 };
    const bath = fieldBath(subject(lie, long));
    expect(spans(bath)).toEqual(close([450 * c + 45 * s, 65, 450 * s + 45 * c]));
    expect(middle(bath)).toEqual(close([0, 0, 200]));
    expect(hanging(bath).most[2]).toBeLessThan(0.4);
    const [part] = bath.parts;
    if (!part) throw new Error("a part hangs");
    const { positions } = moved(part.mesh, part.pose);
    const top = Array.from(positions).findIndex(
      (value, at) => at % 3 === 2 && value > hanging(bath).most[2] - 1e-9,
    );
    expect(positions[top - 2]).toBeGreaterThan(0);
  });

  it("has its lower end the clearance above the floor when it goes in end for end", () => {
    const bar: PartDescription = { ...casting, lengthMm: 700, widthMm: 40, heightMm: 40 };
    const lie: Lie = { kind: "END_FOR_END", dips: 2, along: 40, across: 40, up: 700 };
    const bath = fieldBath(subject(lie, bar));
    expect(hanging(bath).least[2]).toBeCloseTo(0.05, 9);
    expect(spans(bath)).toEqual(close([40, 40, 700]));
  });
});

describe("the bath and its anodes", () => {
  it("is level as loaded, with strips at the wall that together are the anode", () => {
    const bath = fieldBath(subject(whole(250, 65, 45)));
    expect(bath.levelM).toBe(0.4);
    expect(bath.anodes).toEqual([
      {
        id: "wall",
        name: "anode at the wall",
        form: { kind: "STRIPS", count: 4, areaM2: 0.42 },
      },
    ]);
    expect(bath.parts).toMatchObject([{ id: "part", name: "the part" }]);
  });

  it("takes a rod beside the wall's anode", () => {
    const rod = { kind: "ROD", from: [0, 0, 0.1], to: [0, 0, 0.3], radiusM: 0.006 } as const;
    const { anodes } = fieldBath(subject(whole(250, 65, 45)), { alongMm: 0, acrossMm: 0 }, rod);
    expect(anodes).toHaveLength(2);
    expect(anodes[1]).toEqual({ id: "inner-1", name: "inner anode", form: rod });
  });

  it.each<[TankShape, Bathful["vessel"]]>([
    [
      tub.shape,
      {
        kind: "BOX",
        topLengthM: 0.8,
        topWidthM: 0.52,
        bottomLengthM: 0.72,
        bottomWidthM: 0.44,
        depthM: 0.42,
      },
    ],
    [
      { kind: "ROUND", topDiameterMm: 310, bottomDiameterMm: 260, depthMm: 370 },
      { kind: "ROUND", topDiameterM: 0.31, bottomDiameterM: 0.26, depthM: 0.37 },
    ],
    [
      {
        kind: "MEASURED",
        marks: [{ levelMm: 300, volumeL: 50 }],
        lengthMm: 500,
        widthMm: 350,
        depthMm: 300,
      },
      {
        kind: "BOX",
        topLengthM: 0.5,
        topWidthM: 0.35,
        bottomLengthM: 0.5,
        bottomWidthM: 0.35,
        depthM: 0.3,
      },
    ],
  ])("is the tank in metres: %j", (shape, vessel) => {
    const tank = { ...CHOSEN.tank, shape };
    expect(fieldBath(subject(whole(250, 65, 45), casting, { tank })).vessel).toEqual(vessel);
  });
});

describe("what drives the field", () => {
  it("is the plan's current in the plan's bath, with overvoltages and a millimetre of rust and of scale", () => {
    const drive = fieldDrive(subject(whole(250, 65, 45)));
    expect(drive.conductivitySPerM).toBe(CHOSEN.bath.conductivitySPerM);
    expect(drive.currentA).toBe(CHOSEN.band.mid.currentA);
    const anode = anodeBetween(0.17);
    const same = (one: Polarisation, other: Polarisation): void => {
      for (const density of [0.1, 10, 50]) expect(one(density)).toEqual(other(density));
    };
    // 1 mm with a tenth of it open: 0.001/0.1^1.5 m of bath.
    const layerOhmM2 = 0.0316227766 / CHOSEN.bath.conductivitySPerM;
    const behind = (curve: Polarisation): Polarisation => {
      return (density) => {
        const { overvoltageV, slopeOhmM2 } = curve(density);
        return {
          overvoltageV: expect.closeTo(overvoltageV + layerOhmM2 * density, 9) as number,
          slopeOhmM2: expect.closeTo(slopeOhmM2 + layerOhmM2, 9) as number,
        };
      };
    };
    same(drive.part, behind(tafel(CATHODE.tafelSlopeV, CATHODE.exchangeCurrentDensity)));
    same(drive.anode, behind(tafel(anode.tafelSlopeV, anode.exchangeCurrentDensity)));
    expect(drive.part(10)).not.toEqual(drive.anode(10));
  });
});

describe("a rod for the hollow", () => {
  // 420 by 200, 180 high, 1.2 mm of wall: 100 − 1.2 − 6 mm from the rod to the wall.
  const standing = whole(420, 200, 180);

  it("is upright in the middle, from the clearance above the floor to the level", () => {
    const rod = innerRod(subject(standing, box), 50);
    // It hangs 110 mm above the tank's floor.
    expect(rod).toEqual({
      kind: "ROD",
      from: [0, 0, expect.closeTo(0.11 + 0.0012 + 0.05, 9)],
      to: [0, 0, expect.closeTo(0.4 - 1e-4, 9)],
      radiusM: 0.006,
    });
    const thin = innerRod(subject(standing, { ...box, wallMm: null }), 50);
    expect(thin).toMatchObject({ from: [0, 0, expect.closeTo(0.16, 9)] });
  });

  it("fits a pan too", () => {
    const pan: PartDescription = {
      ...box,
      shape: "PAN",
      lengthMm: 260,
      widthMm: 260,
      heightMm: 60,
    };
    expect(innerRod(subject(whole(260, 260, 60), pan), 50)).not.toBeNull();
  });

  it("keeps the clearance to the nearer wall", () => {
    expect(innerRod(subject(standing, box), 92.7)).not.toBeNull();
    expect(innerRod(subject(standing, box), 92.9)).toBeNull();
    expect(innerRod(subject(whole(200, 420, 180), box), 92.9)).toBeNull();
    expect(innerRod(subject(standing, { ...box, wallMm: null }), 93.9)).not.toBeNull();
    expect(innerRod(subject(standing, { ...box, wallMm: null }), 94.1)).toBeNull();
  });

  it("is none where nothing is hollow from above", () => {
    expect(innerRod(subject(whole(420, 180, 200), box), 50)).toBeNull();
    expect(innerRod(subject(standing, { ...box, shape: "PLATE" }), 50)).toBeNull();
    expect(innerRod(subject(standing, { ...box, shape: "TUBE" }), 50)).toBeNull();
    const tilted: Lie = { kind: "TILTED", tiltDegrees: 10, along: 420, across: 200, up: 180 };
    expect(innerRod(subject(tilted, box), 50)).toBeNull();
    expect(innerRod(subject(whole(420, 200, 180.9), box), 50)).not.toBeNull();
    expect(innerRod(subject(whole(420, 200, 181), box), 50)).toBeNull();
  });
});
