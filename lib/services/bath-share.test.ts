import { describe, expect, it } from "vitest";
import { bathShare } from "./bath-share";

describe("bathShare", () => {
  it("is the charge over what a bath can pass in its life", () => {
    expect(bathShare(20, 60)).toBeCloseTo(1 / 60, 12);
  });

  it("adds up to the whole bath and no more once it has passed more than that", () => {
    const charges = [900, 700, 200];
    const whole = charges.reduce((total, charge) => total + charge, 0);
    const shares = charges.map((charge) => bathShare(charge, 60, whole));
    expect(shares.reduce((total, share) => total + share, 0)).toBeCloseTo(1, 12);
  });

  it("never exceeds the bath, and is nothing for no charge or no bath", () => {
    expect(bathShare(10_000, 60)).toBe(1);
    expect(bathShare(0, 60)).toBe(0);
    expect(bathShare(0, 0)).toBe(0);
  });
});
