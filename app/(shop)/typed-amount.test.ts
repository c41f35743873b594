import { describe, expect, it } from "vitest";
import { typedAmount } from "./typed-amount";

describe("typedAmount", () => {
  it("reads amounts of either sign", () => {
    expect(typedAmount("amount", "12,50", "EUR")).toBe(1250);
    expect(typedAmount("amount", "-3", "EUR")).toBe(-300);
  });

  it("names the field and what was expected", () => {
    for (const typed of ["", "twelve", "1.234"]) {
      expect(() => typedAmount("amount1", typed, "EUR")).toThrow(
        expect.objectContaining({
          code: "invalid",
          fields: { amount1: `Expected an amount in EUR, such as 12.50; not “${typed}”.` },
        }),
      );
    }
  });
});
