/**
 * `npm run bench:promise`: how long the earliest promise takes on a full board of twelve tanks and 300 booked dips with
 * everything that would help, and how long 1000 plays of its four weeks take. Measured and printed, never asserted: it
 * depends on the machine.
 */
import {
  earliestPromise,
  type PromiseQuestion,
  simulateWeeks,
  type Simulation,
  whatIf,
} from "@/lib/scheduling";
import { bookedBoard, newPart } from "../support/booked-board";

const DIPS = 300;
const TANKS = 12;
const WEEK_MS = 168 * 3_600_000;

const { board, loads } = bookedBoard({ dips: DIPS, tanks: TANKS, seed: 1 });

function askAbout(seed: number): { readonly ms: number; readonly helps: number } {
  const question: PromiseQuestion = {
    board,
    loads,
    part: newPart(board, loads, seed),
    timeZone: "Europe/Berlin",
    medianShare: 0.6,
    mayGiveWay: new Set(loads.map(({ id }) => id)),
    extraOpenings: [5, 12].map((day) => {
      const fromMs = board.nowMs + day * 24 * 3_600_000;
      return { label: `Saturday ${day}`, span: { fromMs, untilMs: fromMs + 8 * 3_600_000 } };
    }),
  };
  const began = performance.now();
  const { wouldHelp } = earliestPromise(question);
  return { ms: performance.now() - began, helps: wouldHelp.length };
}

for (let warm = 0; warm < 5; warm += 1) askAbout(warm);
const asked = Array.from({ length: 40 }, (_, seed) => askAbout(seed + 100));
const times = asked.map(({ ms }) => ms).sort((a, b) => a - b);
const helps = asked.reduce((sum, one) => sum + one.helps, 0) / asked.length;
const percentile = (share: number): string =>
  (times[Math.ceil(share * times.length) - 1] ?? Number.NaN).toFixed(1);
console.log(`promise on ${TANKS} tanks, ${loads.length} loads, all helps tried, ms:`);
console.log(
  `  median ${percentile(0.5)}  p95 ${percentile(0.95)}  worst ${percentile(1)}  (${helps.toFixed(1)} helps each)`,
);

const simulation: Simulation = {
  board,
  loads,
  spreads: new Map(
    loads.map(({ id, needs }) => [id, { p50Hours: 0.6 * needs.hours, p90Hours: needs.hours }]),
  ),
  seed: 1,
  untilMs: board.nowMs + 4 * WEEK_MS,
};
const seconds = (began: number): string => ((performance.now() - began) / 1000).toFixed(2);
let began = performance.now();
const asItIs = simulateWeeks(simulation);
console.log(`1000 plays of ${loads.length} loads over four weeks: ${seconds(began)} s`);
console.log(
  `  kept ${(100 * (asItIs.kept?.mean ?? 0)).toFixed(1)} %, waited ${asItIs.delayHours.mean.toFixed(0)} load-hours, ` +
    `most for ${asItIs.bottleneck?.kind ?? "nothing"} ${asItIs.bottleneck?.id ?? ""}`,
);
began = performance.now();
const more = whatIf(simulation, asItIs, [{ kind: "HANDS" }]);
console.log(
  `  one more pair of hands: ${seconds(began)} s, kept ${(100 * (more.kept?.mean ?? 0)).toFixed(2)} points more, ` +
    `waited ${more.delayHours.mean.toFixed(1)} load-hours more`,
);
const [tank] = board.tanks;
const part = newPart(board, loads, 7);
const [dip] = part.dips;
began = performance.now();
const arriving = simulateWeeks({
  ...simulation,
  times: 100,
  arrivals: {
    weeklyRate: 10,
    parts: [
      {
        id: tank?.id ?? "",
        weight: 1,
        dips: [
          {
            benchMinutes: dip.benchMinutes,
            tanks: new Map(
              [...dip.tanks].map(([id, needs]) => [
                id,
                { ...needs, p50Hours: 0.6 * needs.hours, p90Hours: needs.hours },
              ]),
            ),
          },
        ],
      },
    ],
    promise: { kind: "EARLIEST" },
  },
});
console.log(
  `100 plays with ${arriving.arrivals?.arrived.toFixed(0) ?? 0} jobs arriving in each: ${seconds(began)} s, ` +
    `kept ${(100 * (arriving.arrivals?.kept?.share ?? 0)).toFixed(1)} % of theirs`,
);
