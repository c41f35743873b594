import { describe, expect, it } from "vitest";
import type { BoardLoad, HeldBack, Help, PromisedSlot } from "@/lib/scheduling";
import type { BoardNames } from "@/lib/services";
import { brokenWords, gainWords, heldBackWords, helpWords, type Say, waitsWords } from "./words";

const names: BoardNames = {
  tanks: { t: "Long tank" },
  supplies: { s: "Big charger" },
  loads: { r: { number: 12, what: "hinge" }, h: { number: null, what: "bath change" } },
  jobs: { j: { number: 7, promisedFor: "2026-12-01" } },
};
const say: Say = {
  when: (ms) => `at ${ms}`,
  day: (day) => `day ${day}`,
  length: (ms) => `${ms / 3_600_000} h`,
};
const span = { fromMs: 0, untilMs: 5 };

describe("why not earlier", () => {
  it.each<[HeldBack, string]>([
    [{ ...span, kind: "RELEASE" }, "cannot go in yet"],
    [{ ...span, kind: "OTHER_END", dipId: "d" }, "its other end is still in"],
    [{ ...span, kind: "TANK_BUSY", tankId: "t", byId: "r" }, "run 12 (hinge) is in Long tank"],
    [{ ...span, kind: "TANK_BUSY", tankId: "t", byId: "h" }, "bath change is in Long tank"],
    [
      { ...span, kind: "GAP_TOO_SHORT", tankId: "t", nextId: "r", shortHours: 2 },
      "2 h short of what it needs before run 12 (hinge)",
    ],
    [{ ...span, kind: "SHUT" }, "nobody is there"],
    [{ ...span, kind: "HANDS_TAKEN", byIds: ["r", "h"] }, "run 12 (hinge) and bath change"],
    [
      { ...span, kind: "SUPPLY_FULL", supplyId: "s", byIds: ["r"], shortA: 1.25 },
      "Big charger has 1.3 A too little left beside run 12 (hinge)",
    ],
  ])("says %o", (held, words) => {
    expect(heldBackWords(held, names, say)).toContain(words);
    expect(heldBackWords(held, names, say)).toContain("at 5");
  });

  it("says why a load that is done stays in", () => {
    expect(waitsWords({ hours: 12, because: "SHUT" }, say)).toContain(
      "12 h, until somebody is there",
    );
    expect(waitsWords({ hours: 1, because: "HANDS_TAKEN" }, say)).toContain("has free hands");
  });
});

describe("what would help", () => {
  const slot = { day: "2026-12-03" } as PromisedSlot;
  const load = { id: "r" } as BoardLoad;
  const gained = { slot, gainedHours: 30, gainedDays: 1 };
  const moved = [{ from: load, to: load, lateJobIds: ["j"] }];

  it.each<[Help, string]>([
    [{ ...gained, kind: "OPEN", opening: { label: "2026-11-28", span } }, "Open on day 2026-11-28"],
    [{ ...gained, kind: "HANDS" }, "One more pair of hands"],
    [{ ...gained, kind: "SUPPLY", tankId: "t" }, "A supply of its own for Long tank"],
    [{ ...gained, kind: "SHARE", moved }, "Put it in with run 12 (hinge)"],
    [{ ...gained, kind: "GIVE_WAY", moved }, "Let run 12 (hinge) give way"],
  ])("says %o", (help, words) => {
    expect(helpWords(help, names, say)).toContain(words);
  });

  it("says what is gained, by days or by hours, or that there is no other way", () => {
    const hands = { kind: "HANDS" as const, slot };
    expect(gainWords({ ...hands, gainedHours: 30, gainedDays: 1 }, say)).toContain("1 day sooner");
    expect(gainWords({ ...hands, gainedHours: 3, gainedDays: 0 }, say)).toContain("3 h sooner");
    expect(gainWords({ ...hands, gainedHours: null, gainedDays: null }, say)).toContain("no slot");
  });

  it("never hides whose promise would break", () => {
    expect(brokenWords({ ...gained, kind: "GIVE_WAY", moved }, names)).toContain("job 7");
    const kept = [{ from: load, to: load, lateJobIds: [] }];
    expect(brokenWords({ ...gained, kind: "SHARE", moved: kept }, names)).toBe("");
    expect(brokenWords({ ...gained, kind: "HANDS" }, names)).toBe("");
  });
});
