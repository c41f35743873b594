import { reliefBake } from "@/lib/treatment";
import { describe, expect, it } from "vitest";

/*
 * ASTM B850-98 (reapproved 2009, 2015), table of bakes for steel after coating, 190 to 220 °C, as printed in a
 * plater's bake chart (a partial list). Guidance: the standard no longer makes it mandatory (ASTM B1031-26).
 * Least MPa, most MPa, Rockwell C within the row, least hours.
 */
const TABLE = [
  [1701, 1800, 50, 22],
  [1601, 1700, 48, 20],
  [1501, 1600, 46, 18],
  [1401, 1500, 44, 16],
  [1301, 1400, 41, 14],
  [1201, 1300, 37, 12],
  [1101, 1200, 34, 10],
  [1001, 1100, 32, 8],
] as const;

describe("relief bake, ASTM B850-98", () => {
  it.each(TABLE)(
    "from %i to %i MPa, or %i HRC: %i h at 190 to 220 °C",
    (least, most, hrc, hours) => {
      const bake = { leastC: 190, mostC: 220, hours };
      expect(reliefBake(least, null)).toMatchObject(bake);
      expect(reliefBake(most, null)).toMatchObject(bake);
      expect(reliefBake(null, hrc)).toMatchObject(bake);
    },
  );

  it("begins at 1000 MPa (scope of ASTM B849: 1000 MPa or greater) and 31 HRC, and not below", () => {
    expect(reliefBake(1000, null)).toMatchObject({ hours: 8 });
    expect(reliefBake(null, 31)).toMatchObject({ hours: 8 });
    expect(reliefBake(999, 30.9)).toBeNull();
    expect(reliefBake(null, null)).toBeNull();
  });

  it("takes the row with the longer bake where two rows share a hardness", () => {
    expect(reliefBake(null, 33)).toMatchObject({ hours: 10 });
    expect(reliefBake(1050, 45)).toMatchObject({ hours: 18 });
  });

  it("has no bake beyond its last row", () => {
    expect(reliefBake(1801, null)).toBe("too strong");
    expect(reliefBake(null, 52)).toBe("too strong");
  });

  it("starts within 4 h of the bath (ISO 9588, from memory)", () => {
    expect(reliefBake(1250, null)).toMatchObject({ startWithinHours: 4 });
  });
});
