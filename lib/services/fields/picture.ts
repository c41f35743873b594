import type { FieldPicture, SheetDrawing, SheetInk } from "@/lib/documents";
import {
  type Bathful,
  type FieldLook,
  FIRST_ELECTRODE,
  INSULATOR,
  lookAt,
  type LookOptions,
  sectionOf,
} from "@/lib/field";
import {
  fieldBath,
  fieldDrive,
  type FieldSubject,
  type InnerAnodeFound,
  innerForms,
  placeHours,
} from "@/lib/treatment";
import { hourSteps, stepOf } from "./hour-steps";

/** Enough for paper: a fifth of a second of work. */
const CELLS = 20_000;
/** Bands of equal volts from the part to the anode. */
const BANDS = 8;
/** Turned about the upright axis and tipped towards the eye, rad. */
const TURN = -0.6;
const TIP = 0.55;

const METAL: SheetInk = { of: "METAL", step: 0 };
const ANODE: SheetInk = { of: "ANODE", step: 0 };
const DRY: SheetInk = { of: "DRY", step: 0 };

/** What hangs inside the part, and the current that then flows, A. */
export type HungInside = Pick<InnerAnodeFound, "form" | "currentA">;

type Look = (bath: Bathful, options: LookOptions) => FieldLook;

/**
 * A part in its bath as it goes on paper: cut through, and in space, shaded by when each place is clean. One solution
 * of the bath serves both.
 *
 * @param hung what hangs inside; null for nothing
 * @param look solves the bath
 * @throws RangeError naming a measure that is out of range, or what does not hang as it should
 */
export function drawField(
  subject: FieldSubject,
  hung: HungInside | null,
  look: Look = lookAt,
): FieldPicture {
  const planned = subject.chosen.band.mid.currentA;
  const currentA = hung?.currentA ?? planned;
  const bath = fieldBath(subject, undefined, hung ? innerForms(hung.form) : []);
  const found = look(bath, { cells: CELLS, polarised: { ...fieldDrive(subject), currentA } });
  const hours = placeHours(subject);
  const wet = wetPlaces(found, (ratio) => hours((ratio * currentA) / planned));
  const { breaks, words } = hourSteps(wet.hours, wet.areas);
  const inkOf = (hours: number): SheetInk =>
    Number.isNaN(hours) ? DRY : { of: "HOURS", step: stepOf(hours, breaks) };
  const drawn = inSpace(found, inkOf, wet.of);
  return { section: cutThrough(found), space: drawn, legend: words, dry: wet.someDry };
}

type Places = {
  /** Hours and area of each wet place of the part, m². */
  readonly hours: readonly number[];
  readonly areas: readonly number[];
  /** Hours of every triangle of the surface; NaN where dry. */
  readonly of: Float64Array;
  readonly someDry: boolean;
};

function wetPlaces({ surface, electrodes }: FieldLook, hoursAt: (ratio: number) => number): Places {
  const { ratio, electrode, corners } = surface;
  const hours: number[] = [];
  const areas: number[] = [];
  const of = new Float64Array(ratio.length).fill(Number.NaN);
  let someDry = false;
  ratio.forEach((value, patch) => {
    if (electrodes[electrode[patch] ?? 0]?.kind !== "PART") return;
    if (Number.isNaN(value)) {
      someDry = true;
      return;
    }
    const here = hoursAt(value);
    of[patch] = here;
    hours.push(here);
    areas.push(areaOf(corners, 9 * patch));
  });
  return { hours, areas, of, someDry };
}

function areaOf(corners: Float32Array, at: number): number {
  const edge = (to: number, axis: number): number =>
    (corners[at + to + axis] ?? 0) - (corners[at + axis] ?? 0);
  const [ax, ay, az] = [edge(3, 0), edge(3, 1), edge(3, 2)];
  const [bx, by, bz] = [edge(6, 0), edge(6, 1), edge(6, 2)];
  return Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2;
}

/** Rows of cells alike become one strip each. */
function cutThrough(look: FieldLook): SheetDrawing {
  const section = sectionOf(look, "y", 0.5);
  const { columns, rows, columnM, rowM, codes, potentialV } = section;
  const bath = potentialV.filter((_, at) => codes[at] === 0);
  const least = bath.reduce((low, value) => Math.min(low, value), Infinity);
  const most = bath.reduce((high, value) => Math.max(high, value), -Infinity);
  const bands = Array.from({ length: BANDS }, (_, step): SheetInk => ({ of: "BATH", step }));
  const inkAt = (at: number): SheetInk | null => {
    const code = codes[at] ?? INSULATOR;
    if (code === INSULATOR) return null;
    if (code >= FIRST_ELECTRODE) {
      return look.electrodes[code - FIRST_ELECTRODE]?.kind === "PART" ? METAL : ANODE;
    }
    const share = ((potentialV[at] ?? 0) - least) / Math.max(1e-12, most - least);
    return bands[Math.min(BANDS - 1, Math.floor(share * BANDS))] ?? null;
  };
  const shapes: SheetDrawing["shapes"][number][] = [];
  for (let row = 0; row < rows; row++) {
    let from = 0;
    for (let column = 1; column <= columns; column++) {
      const ink = inkAt(from + columns * row);
      if (column < columns && inkAt(column + columns * row) === ink) continue;
      if (ink) {
        const [left, right] = [from * columnM, column * columnM];
        const [low, high] = [row * rowM, (row + 1) * rowM];
        shapes.push({ points: [left, low, right, low, right, high, left, high], ink });
      }
      from = column;
    }
  }
  return { width: columns * columnM, height: rows * rowM, shapes };
}

/** The triangles of the part, the far ones first, so that the near ones cover them. */
function inSpace(
  { surface, electrodes }: FieldLook,
  inkOf: (hours: number) => SheetInk,
  hours: Float64Array,
): SheetDrawing {
  const { corners, electrode } = surface;
  const seen: { readonly points: number[]; readonly ink: SheetInk; readonly near: number }[] = [];
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let patch = 0; patch < electrode.length; patch++) {
    if (electrodes[electrode[patch] ?? 0]?.kind !== "PART") continue;
    const points: number[] = [];
    let near = 0;
    for (let at = 9 * patch; at < 9 * patch + 9; at += 3) {
      const [x, y, depth] = project(corners[at] ?? 0, corners[at + 1] ?? 0, corners[at + 2] ?? 0);
      points.push(x, y);
      near += depth / 3;
      [left, right] = [Math.min(left, x), Math.max(right, x)];
      [low, high] = [Math.min(low, y), Math.max(high, y)];
    }
    if (facesAway(points)) continue;
    seen.push({ points, near, ink: inkOf(hours[patch] ?? Number.NaN) });
  }
  if (seen.length === 0) return { width: 1, height: 1, shapes: [] };
  seen.sort((one, other) => one.near - other.near);
  return {
    width: right - left,
    height: high - low,
    shapes: seen.map(({ points, ink }) => ({
      points: points.map((value, place) => value - (place % 2 === 0 ? left : low)),
      ink,
    })),
  };
}

/** Only the skin that one sees is drawn: the two sides of a thin wall lie too near each other to be sorted. */
function facesAway([ax = 0, ay = 0, bx = 0, by = 0, cx = 0, cy = 0]: readonly number[]): boolean {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) <= 0;
}

/** Across, up, and towards the eye. */
function project(x: number, y: number, z: number): readonly [number, number, number] {
  const across = Math.cos(TURN) * x - Math.sin(TURN) * y;
  const away = Math.sin(TURN) * x + Math.cos(TURN) * y;
  return [
    across,
    Math.cos(TIP) * z + Math.sin(TIP) * away,
    Math.sin(TIP) * z - Math.cos(TIP) * away,
  ];
}
