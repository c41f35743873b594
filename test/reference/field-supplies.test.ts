import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  conductanceMatrix,
  type Electrode,
  linear,
  type PolarisedDrive,
  prepare,
  solvePolarised,
  tafel,
} from "@/lib/field";
import { sceneFrom } from "../support/field-scenes";

/*
 * Two supplies in one bath against superposition: where overvoltages are as good as none, the volts of both follow from
 * the bath's conductances by a dense solution (ml-matrix, LU).
 */
const ELECTRODES: readonly Electrode[] = [
  { kind: "ANODE", id: "left", name: "left" },
  { kind: "PART", id: "part", name: "part" },
  { kind: "ANODE", id: "right", name: "right" },
];

/** A block nearer to the left of two plates. */
const bath = () =>
  prepare(
    sceneFrom(
      [0.36, 0.16, 0.16],
      [36, 16, 16],
      (x, y, z) => {
        if (x < 0.02) return 0;
        if (x > 0.34) return 2;
        return x > 0.1 && x < 0.16 && y > 0.05 && y < 0.11 && z > 0.05 && z < 0.11 ? 1 : "bath";
      },
      ELECTRODES,
    ),
  );

const driven = (
  left: number,
  right: number,
  more: Partial<PolarisedDrive> = {},
): PolarisedDrive => ({
  conductivitySPerM: 2,
  currentA: left + right,
  supplies: [
    { anodes: ["left"], currentA: left },
    { anodes: ["right"], currentA: right },
  ],
  part: linear(1e-7),
  anode: linear(1e-7),
  ...more,
});

describe("two supplies on one part", () => {
  it("settle at the volts that superposition gives", () => {
    const prepared = bath();
    const conductance = conductanceMatrix(prepared, 2, { tolerance: 1e-9 });
    const of = (row: number, column: number): number => conductance[row]?.[column] ?? 0;
    // Out of an anode flows what does not flow in.
    const matrix = new Matrix([
      [-of(0, 0), -of(0, 2)],
      [-of(2, 0), -of(2, 2)],
    ]);
    const volts = solve(matrix, Matrix.columnVector([3, 2])).to1DArray();
    const { drivingsV, electrodeCurrentA } = solvePolarised(prepared, driven(3, 2), {
      tolerance: 1e-8,
    });
    expect(drivingsV).toHaveLength(2);
    drivingsV.forEach((drivingV, supply) =>
      expect(drivingV / (volts[supply] ?? 0)).toBeCloseTo(1, 3),
    );
    expect(electrodeCurrentA[0]).toBeCloseTo(-3, 3);
    expect(electrodeCurrentA[1]).toBeCloseTo(5, 3);
    expect(electrodeCurrentA[2]).toBeCloseTo(-2, 3);
  });

  it("hold their currents with overvoltages too, and the nearer anode needs fewer volts for as much", () => {
    const polarised = { part: tafel(0.12, 0.01), anode: tafel(0.1, 0.03) };
    const { drivingsV, electrodeCurrentA } = solvePolarised(bath(), driven(2, 2, polarised));
    expect(electrodeCurrentA[0]).toBeCloseTo(-2, 2);
    expect(electrodeCurrentA[2]).toBeCloseTo(-2, 2);
    expect(drivingsV[0]).toBeLessThan(drivingsV[1] ?? 0);
  });

  it("are one where both stand at the same volts", () => {
    const polarised = { part: tafel(0.12, 0.01), anode: tafel(0.1, 0.03) };
    const one = solvePolarised(bath(), {
      ...{ conductivitySPerM: 2, currentA: 4, ...polarised },
    });
    const [left, right] = [-(one.electrodeCurrentA[0] ?? 0), -(one.electrodeCurrentA[2] ?? 0)];
    const two = solvePolarised(bath(), driven(left, right, polarised));
    for (const drivingV of two.drivingsV) expect(drivingV).toBeCloseTo(one.drivingV, 2);
  });

  it("refuse a supply without current, sums that differ, and anodes on none or on two", () => {
    const refused = (drive: PolarisedDrive) => () => solvePolarised(bath(), drive);
    expect(refused(driven(4, 0))).toThrow(/current of a supply.*got 0/);
    expect(refused({ ...driven(2, 2), currentA: 5 })).toThrow(/current of all supplies/);
    const only = [{ anodes: ["left"], currentA: 4 }];
    expect(refused({ ...driven(2, 2), supplies: only })).toThrow(
      /each anode hangs on one supply: expected left, right, got left/,
    );
    const both = [...only, { anodes: ["left", "right"], currentA: 1 }];
    expect(refused({ ...driven(2, 2), currentA: 5, supplies: both })).toThrow(
      /got left, left, right/,
    );
  });
});
