import { describe, expect, it } from "vitest";
import { isRefusal, Refusal } from "./index";

describe("Refusal", () => {
  it("carries its code, its message and the fields it is about", () => {
    const refusal = new Refusal("invalid", "A run must end after it starts.", {
      endsAt: "Choose a later time.",
    });
    expect(refusal).toMatchObject({
      code: "invalid",
      message: "A run must end after it starts.",
      fields: { endsAt: "Choose a later time." },
    });
  });

  it("is told from a fault, also after it lost its prototype", () => {
    const copied = Object.assign(new Error("busy"), { name: "Refusal", code: "tank-busy" });
    expect(isRefusal(new Refusal("conflict", "x"))).toBe(true);
    expect(isRefusal(copied)).toBe(true);
    expect(isRefusal(new Error("boom"))).toBe(false);
    expect(isRefusal({ name: "Refusal", code: "conflict" })).toBe(false);
    expect(isRefusal(undefined)).toBe(false);
  });
});
