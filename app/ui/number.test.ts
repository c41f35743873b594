import { describe, expect, it } from "vitest";
import { formatNumber } from "./number";

describe("formatNumber", () => {
  it.each([
    [0, "0"],
    [-0, "0"],
    [3.14159, "3.14"],
    [-3.14159, "-3.14"],
    [1234.5, "1235"],
    [99.96, "100"],
    [12.34, "12.3"],
    [12, "12"],
    [9.996, "10"],
    [0.5, "0.5"],
    [0.01234, "0.0123"],
    [0.001234, "0.0012"],
    [123_456_789, "123456789"],
  ])("writes %d as %s", (value, written) => {
    expect(formatNumber(value)).toBe(written);
  });

  it.each([Number.NaN, Infinity, -Infinity])("writes a dash for %d", (value) => {
    expect(formatNumber(value)).toBe("—");
  });

  it("writes no power of ten for what is very small", () => {
    expect(formatNumber(0.000_000_12)).toBe("0.00000012");
    expect(formatNumber(-0.000_000_12)).toBe("-0.00000012");
  });
});
