/** Invented lanes, runs and parts, for tests: valid ones, with what a test cares about put over them. */
import type { BoardHold, BoardPart, BoardRun, Lane, TimeBoard } from "@/lib/services";

export const HOUR = 3_600_000;

export const aPart = (over: Partial<BoardPart> = {}): BoardPart => ({
  dipId: "dip",
  partId: "part",
  mark: "A",
  description: "Hinge",
  quantity: 1,
  jobId: "job",
  jobNumber: 7,
  rush: false,
  dueMs: null,
  end: 1,
  ends: 1,
  ...over,
});

export const aRun = (over: Partial<BoardRun> = {}): BoardRun => ({
  id: "run",
  number: 1,
  state: "PLANNED",
  startsAtMs: 8 * HOUR,
  endsAtMs: 13 * HOUR,
  treatHours: 4,
  benchMinutes: 30,
  currentA: 5,
  chargeAh: 20,
  fixed: false,
  sequence: 0,
  assignedTo: null,
  parts: [aPart()],
  ...over,
});

export const aHold = (over: Partial<BoardHold> = {}): BoardHold => ({
  id: "hold",
  kind: "BATH_CHANGE",
  done: false,
  startsAtMs: 8 * HOUR,
  endsAtMs: 10 * HOUR,
  note: "",
  sequence: 0,
  ...over,
});

export const aLane = (over: Partial<Lane> = {}): Lane => ({
  tankId: "tank",
  name: "Long tank",
  place: "",
  supplyId: "supply",
  shape: {
    kind: "ROUND",
    topDiameterMm: 500,
    bottomDiameterMm: 450,
    depthMm: 400,
  },
  state: "still",
  levelMm: 300,
  lacks: [],
  anodeLeftAh: 1000,
  bathLeftAh: 1000,
  runs: [],
  holds: [],
  ...over,
});

/** One day that is open from 8 to 18. */
export const aBoard = (over: Partial<TimeBoard> = {}): TimeBoard => ({
  asOfMs: 0,
  fromMs: 0,
  untilMs: 24 * HOUR,
  timeZone: "UTC",
  days: [{ day: "1970-01-01", fromMs: 0, untilMs: 24 * HOUR, closed: null }],
  openings: [
    { fromMs: 8 * HOUR, untilMs: 18 * HOUR },
    { fromMs: 32 * HOUR, untilMs: 42 * HOUR },
  ],
  stepMs: 300_000,
  loadMinutes: 15,
  pullMinutes: 10,
  hands: 1,
  supplies: [{ id: "supply", name: "Charger", ratingA: 10 }],
  lanes: [aLane()],
  ...over,
});
