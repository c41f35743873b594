import { describe, expect, it } from "vitest";
import type { SimulatedResource } from "@/lib/scheduling";
import type { BoardNames } from "@/lib/services";
import { bottleneckWords, differenceWords, percentBand, resourceName } from "./words";

const names: BoardNames = {
  tanks: { t: "Barrel" },
  supplies: { s: "Big charger" },
  loads: {},
  jobs: {},
};
const resource = (kind: SimulatedResource["kind"], id = ""): SimulatedResource => ({
  kind,
  id,
  used: 0.5,
  usedWhileOpen: null,
  waitedHours: 12.34,
  shareOfDelay: 0.62,
  worst: { share: 1, low: 1, high: 1 },
});

describe("the weeks ahead in words", () => {
  it("name what was waited for", () => {
    expect(resourceName(resource("TANK", "t"), names)).toBe("Barrel");
    expect(resourceName(resource("TANK", "t′"), names)).toBe("Barrel");
    expect(resourceName(resource("SUPPLY", "s"), names)).toBe("Big charger");
    expect(bottleneckWords(resource("HANDS"), names)).toContain("hands at the bench: 62 %");
    expect(bottleneckWords(resource("OPENINGS"), names)).toContain("12.3 load-hours");
    expect(bottleneckWords(null, names)).toContain("Nothing waited");
  });

  it("give shares with what they may be", () => {
    expect(percentBand({ mean: 0.914, low: 0.9, high: 0.93 })).toBe("91 % (90 to 93 %)");
    expect(percentBand({ mean: 1, low: 1, high: 1 })).toBe("100 %");
  });

  it("tell a difference from chance, in either direction", () => {
    const say = (value: number): string => `${value.toFixed(1)} h`;
    const words = { more: "more", less: "less" };
    expect(differenceWords({ mean: 0.1, low: -0.2, high: 0.4 }, say, words)).toContain("chance");
    expect(differenceWords({ mean: -3, low: -4, high: -2 }, say, words)).toBe(
      "3.0 h less (2.0 h to 4.0 h)",
    );
    expect(differenceWords({ mean: 3, low: 2, high: 4 }, say, words)).toContain("3.0 h more");
  });
});
