import { describe, expect, it } from "vitest";
import type { QuotablePart } from "@/lib/data";
import { checkWishes, type OptionWish, usualName, usualWishes } from "./wishes";

const part = (
  goal: QuotablePart["goal"],
  ...coatings: string[]
): Pick<QuotablePart, "goal" | "coatings"> => ({ goal, coatings });
const names = (wishes: readonly OptionWish[]) => wishes.map(({ name }) => name);

describe("usualWishes", () => {
  it("offers stripping where paint is on a part, and rust only where all are stripped", () => {
    expect(names(usualWishes([part("RUST_ONLY", "OIL_PAINT")], 25))).toEqual([
      "As planned",
      "Strip and protect",
      "Rush",
    ]);
    expect(names(usualWishes([part("STRIP_TO_METAL", "OIL_PAINT")], 25))).toEqual([
      "As planned",
      "Rust only, protected",
      "Rush",
    ]);
  });

  it("offers no other way where there is nothing to strip, and no rush where it costs nothing", () => {
    expect(names(usualWishes([part("RUST_ONLY")], 25))).toEqual(["As planned", "Rush"]);
    expect(names(usualWishes([part("RUST_ONLY")], 0))).toEqual(["As planned"]);
    const mixed = [part("STRIP_TO_METAL", "OIL_PAINT"), part("RUST_ONLY")];
    expect(names(usualWishes(mixed, 0))).toEqual(["As planned"]);
  });

  it("can always be priced", () => {
    for (const goal of ["RUST_ONLY", "STRIP_TO_METAL"] as const) {
      expect(() => {
        checkWishes(usualWishes([part(goal, "VARNISH")], 25));
      }).not.toThrow();
    }
  });
});

describe("usualName", () => {
  it("tells every combination apart", () => {
    const all = ([null, "RUST_ONLY", "STRIP_TO_METAL"] as const).flatMap((goal) =>
      [false, true].map((rush) => usualName({ goal, rush })),
    );
    expect(new Set(all).size).toBe(6);
  });
});
