import { describe, expect, it } from "vitest";
import { clockOf } from "./clock";
import { stretchesOf } from "./run-shape";
import { aHold, aLane, aPart, aRun, HOUR } from "@/test/support/time-board";
import {
  ageWords,
  daysLate,
  holdLabel,
  laneStanding,
  lateWords,
  loadName,
  runLabel,
  standingOf,
} from "./words";

const berlin = clockOf({ timeZone: "Europe/Berlin", locale: "en-GB" });
const at = (text: string): number => Date.parse(text);

describe("how late a load is", () => {
  const due = at("2026-12-08T23:00Z"); // the end of 8 December in Berlin

  it.each([
    ["2026-12-08T22:59Z", 0],
    ["2026-12-08T23:00Z", 0],
    ["2026-12-08T23:01Z", 1],
    ["2026-12-09T22:30Z", 1],
    ["2026-12-10T08:00Z", 2],
  ])("off the bench at %s: %i days", (ready, days) => {
    expect(daysLate(at(ready), due, "Europe/Berlin")).toBe(days);
  });

  it("counts minutes on the bench that are not whole", () => {
    expect(daysLate(at("2026-12-09T08:00Z") + 0.25, due, "Europe/Berlin")).toBe(1);
  });

  it("is nothing without a promise", () => {
    expect(daysLate(at("2030-01-01T00:00Z"), null, "Europe/Berlin")).toBe(0);
    expect([0, 1, 3].map(lateWords)).toEqual(["", "late by 1 day", "late by 3 days"]);
  });

  it("goes by days of the calendar over a change of the clocks", () => {
    const march = at("2026-03-28T23:00Z");
    expect(daysLate(at("2026-03-29T12:00Z"), march, "Europe/Berlin")).toBe(1);
    expect(daysLate(at("2026-03-30T12:00Z"), march, "Europe/Berlin")).toBe(2);
  });
});

describe("a run in words", () => {
  it("names its load", () => {
    expect(loadName([])).toBe("no parts");
    expect(loadName([aPart({ description: "Skillet" })])).toBe("Skillet");
    expect(loadName([aPart({ description: "Hinge", quantity: 4 }), aPart(), aPart()])).toBe(
      "4 × Hinge and 2 more",
    );
  });

  it("says where it stands against now", () => {
    const run = aRun({ startsAtMs: 10 * HOUR, endsAtMs: 15 * HOUR });
    expect(standingOf(run, 9 * HOUR).words).toBe("booked");
    expect(standingOf(run, 11 * HOUR)).toEqual({
      tone: "over",
      words: "booked, should be in by now",
    });
    const running = { ...run, state: "RUNNING" } as const;
    expect(standingOf(running, 15.5 * HOUR).words).toBe("running, over by 30 min");
  });

  it("says all that its drawing shows", () => {
    const startsAtMs = at("2026-12-07T15:00Z");
    const run = aRun({
      number: 12,
      startsAtMs,
      endsAtMs: at("2026-12-08T07:10Z"),
      treatHours: 5,
      fixed: true,
      parts: [aPart({ description: "Skillet", dueMs: at("2026-12-07T23:00Z") })],
    });
    const stretches = stretchesOf(run, { loadMinutes: 15, pullMinutes: 10 }, 0);
    expect(runLabel(run, { tank: "Long tank", nowMs: 0, stretches, clock: berlin })).toBe(
      "Run 12, Skillet, Long tank, Mon 7 Dec 16:00 to Tue 8 Dec 08:10, booked, waits 10 h 45 min for the pull, fixed, late by 1 day",
    );
  });
});

describe("a tank in words", () => {
  it("says the most pressing thing first", () => {
    const running = aRun({ state: "RUNNING", startsAtMs: 0, endsAtMs: 5 * HOUR });
    const lane = aLane({ runs: [running], lacks: ["no anode"] });
    expect(laneStanding(lane, 3 * HOUR).words).toBe("running, out in 2 h");
    expect(laneStanding(lane, 6 * HOUR)).toEqual({
      words: "pull now, over by 1 h",
      tone: "brass",
    });
    expect(laneStanding(aLane({ lacks: ["no bath", "no anode"] }), 0).words).toBe(
      "no bath, no anode",
    );
    const hold = aHold({ startsAtMs: 0, endsAtMs: HOUR });
    expect(laneStanding(aLane({ holds: [hold] }), 1).words).toBe("bath change");
    expect(laneStanding(aLane({ holds: [{ ...hold, done: true }] }), 1).words).toBe("free");
  });
});

describe("other words", () => {
  it("name the work on a tank", () => {
    const hold = aHold({ startsAtMs: at("2026-12-08T07:00Z"), endsAtMs: at("2026-12-08T09:00Z") });
    expect(holdLabel(hold, "Tub", berlin)).toBe(
      "Bath change, Tub: Tue 8 Dec 08:00 to Tue 8 Dec 10:00",
    );
  });

  it("tell how old the board is", () => {
    expect(ageWords(20_000)).toBe("less than a minute old");
    expect(ageWords(190_000)).toBe("3 min old");
  });
});
