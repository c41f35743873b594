/**
 * `npm run bench:boards`: how near the search comes to the proven best of thirty boards of 8 parts and 3 tanks, what it
 * makes of 200 parts on 12 tanks in two seconds, and how fast loads are placed. `-- --prove` proves the thirty anew and
 * writes them to test/reference/board-optima.json; `-- --long` gives the exact solver a minute with the large board.
 * Measured and printed, never asserted: it depends on the machine.
 */
import { readFileSync, writeFileSync } from "node:fs";
import {
  improveSchedule,
  lowerBound,
  type Score,
  solveExactly,
  timelineOf,
} from "@/lib/scheduling";
import { loadSolver } from "@/lib/scheduling/solver";
import { bookedBoard, FULL, LARGE, shopBoard, SMALL } from "../support/boards";

const OPTIMA = new URL("../reference/board-optima.json", import.meta.url);
const BOARDS = 30;

type Optimum = { readonly seed: number; readonly dips: number } & Score;

const now = (): number => performance.now();
const hours = (value: number): string => value.toFixed(2).padStart(8);
const told = ({ unplaced, weightedTardinessH, makespanH }: Score): string =>
  `${unplaced} unplaced, ${hours(weightedTardinessH)} h late, ${hours(makespanH)} h in all`;

async function prove(): Promise<void> {
  const solver = await loadSolver();
  const optima: Optimum[] = [];
  for (let seed = 1; seed <= BOARDS; seed += 1) {
    const board = shopBoard(SMALL, seed);
    const began = now();
    const { status, score } = solveExactly(board, {
      timeLimitS: 600,
      solver,
      searchTries: 20_000,
    });
    const tookS = ((now() - began) / 1000).toFixed(1);
    console.log(`board ${seed}: ${status} in ${tookS} s, ${told(score)}`);
    if (status === "OPTIMAL") optima.push({ seed, dips: board.dips.length, ...score });
  }
  writeFileSync(OPTIMA, `${JSON.stringify(optima, null, 2)}\n`);
}

/** How far from the best, as a share: of the lateness where the best is late, else of the end. */
function gapOf(found: Score, best: Score): number {
  if (found.unplaced > best.unplaced) return Number.POSITIVE_INFINITY;
  return best.weightedTardinessH > 1e-6
    ? found.weightedTardinessH / best.weightedTardinessH - 1
    : found.weightedTardinessH > 1e-6
      ? Number.POSITIVE_INFINITY
      : found.makespanH / best.makespanH - 1;
}

function small(): void {
  const optima = JSON.parse(readFileSync(OPTIMA, "utf8")) as Optimum[];
  for (const maxTries of [300, 1000, 3000, 10_000]) {
    const began = now();
    const gaps = optima.map((best) => {
      const board = shopBoard(SMALL, best.seed);
      const { score } = improveSchedule(board, [], { seed: 1, now, budgetMs: 60_000, maxTries });
      return { gap: gapOf(score, best), end: score.makespanH - best.makespanH };
    });
    const ms = (now() - began) / optima.length;
    const best = gaps.filter(({ gap }) => gap < 1e-6);
    const both = best.filter(({ end }) => end < 1e-3);
    const worst = Math.max(...gaps.map(({ gap }) => gap));
    console.log(
      `${String(maxTries).padStart(6)} tries: ${best.length} of ${optima.length} best, ${both.length} with the earliest end too, ` +
        `worst ${(100 * worst).toFixed(2)} % off, ${ms.toFixed(0)} ms a board`,
    );
  }
}

function large(): void {
  for (const seed of [1, 2, 3]) {
    const board = shopBoard(LARGE, seed);
    const bound = lowerBound(board);
    console.log(
      `200 parts on 12 tanks, board ${seed}: no less than ${hours(bound.weightedTardinessH)} h late (${bound.tardinessBy}), ` +
        `${hours(bound.makespanH)} h in all (${bound.makespanBy})`,
    );
    for (const budgetMs of [2000, 10_000]) {
      const { score, tries } = improveSchedule(board, [], { seed: 1, now, budgetMs });
      console.log(`  ${budgetMs / 1000} s: ${told(score)}, ${tries} tries`);
    }
  }
}

async function largeExactly(): Promise<void> {
  const board = shopBoard(LARGE, 1);
  const began = now();
  const { status, score, bound } = solveExactly(board, {
    timeLimitS: 120,
    solver: await loadSolver(),
    searchTries: 0,
    mostColumns: 2_000_000,
  });
  const tookS = ((now() - began) / 1000).toFixed(0);
  console.log(
    `exact solver, ${tookS} s: ${status}, ${told(score)}, bound ${told({ unplaced: 0, ...bound })}`,
  );
}

function placing(): void {
  const { board, current } = bookedBoard(FULL, 1);
  const timeline = timelineOf(board, current);
  const asked = board.dips.slice(0, 100).flatMap((dip) =>
    board.tanks.flatMap(({ id }, tank) => {
      const needs = dip.tanks.get(id);
      return needs ? [{ tank, needs, benchMinutes: dip.benchMinutes }] : [];
    }),
  );
  const began = now();
  for (const { tank, needs, benchMinutes } of asked) {
    timeline.earliest(tank, needs, benchMinutes, 0);
  }
  const us = (1000 * (now() - began)) / asked.length;
  console.log(`a place on 12 tanks with ${current.length} booked loads: ${us.toFixed(1)} µs`);
}

if (process.argv.includes("--prove")) await prove();
else {
  small();
  placing();
  large();
  if (process.argv.includes("--long")) await largeExactly();
}
