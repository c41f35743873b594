import type { AnodeForm, BathField, FreeWay, Hollow } from "@/lib/field";
import { type FieldSubject, ROD_RADIUS_M } from "./field-bath";
import type { InnerAnodeForm } from "./field-types";
import { innerArea, lengthOf, type Straight } from "./inner-area";

/** Mild sheet steel that is hung inside parts, m: 2 mm, usual stock. */
const SHEET_M = 0.002;
/**
 * Least free bath between an inner anode and the part, m: what keeps them apart when the part hangs a little askew.
 * Common practice, no source.
 */
const LEAST_CLEAR_M = 0.02;
/** Less of it than this in the hollow is not worth hanging, m. */
const LEAST_ENCLOSED_M = 0.03;
/** Two rods stand no nearer to each other than this, m. */
const LEAST_APART_M = 0.15;
/** What hangs in from above ends this far under the level, m: its lead is above, what counts is below. */
const UNDER_LEVEL_M = 1e-4;

/** Something that could be hung inside the part. */
export type InnerAnode = {
  readonly form: InnerAnodeForm;
  readonly words: string;
  readonly clearanceMm: number;
  /** Facing the bath, m². */
  readonly areaM2: number;
};

/** As the field takes it. */
export function innerForms(form: InnerAnodeForm): readonly AnodeForm[] {
  if (form.kind === "SHEET") return [{ kind: "PLATE", least: form.least, most: form.most }];
  return form.rods.map(({ from, to }) => ({ kind: "ROD", from, to, radiusM: form.radiusM }));
}

/**
 * What could be hung inside a part as it lies in its tank: a rod upright in the clearest deep place, two of them, a rod
 * lying along the hollow, a sheet on edge along it. Each keeps its distance from the part all along.
 */
export function innerCandidates({ chosen }: FieldSubject, field: BathField): readonly InnerAnode[] {
  const hollow = field.hollow();
  const levelM = chosen.levelMm / 1000 - UNDER_LEVEL_M;
  const nearM = LEAST_CLEAR_M + ROD_RADIUS_M;
  const upright = hollow.upright(nearM);
  const lying = longer(hollow.lying(0, nearM), hollow.lying(1, nearM));
  const found: InnerAnode[] = [];
  if (upright && upright.enclosedM >= LEAST_ENCLOSED_M) {
    found.push(
      rods([hung(upright, levelM)], upright.clearM, "upright in the middle of the hollow"),
    );
    if (lying) found.push(...severalUpright(hollow, lying, nearM, levelM));
  }
  if (lying && lying.enclosedM >= LEAST_ENCLOSED_M) {
    found.push(rods([lying], lying.clearM, "lying along the hollow"));
  }
  return found;
}

/** Two rods at the quarters of the hollow's length, and a sheet on edge along it, where they reach down. */
function severalUpright(
  hollow: Hollow,
  lying: FreeWay,
  nearM: number,
  levelM: number,
): InnerAnode[] {
  const { axis, from, to } = lying;
  const lengthM = to[axis] - from[axis];
  const ways = [0.25, 0.5, 0.75].map((share) => {
    const along = from[axis] + share * lengthM;
    return hollow.upright(nearM, axis === 0 ? [along, from[1]] : [from[0], along]);
  });
  const [one, middle, two] = ways;
  if (!one || !middle || !two || lengthM / 2 < LEAST_APART_M) return [];
  if ([one, middle, two].some(({ enclosedM }) => enclosedM < LEAST_ENCLOSED_M)) return [];
  const clearM = Math.min(one.clearM, two.clearM);
  const pair = rods(
    [hung(one, levelM), hung(two, levelM)],
    clearM,
    "upright at the quarters of the hollow",
  );
  const foot = Math.max(one.from[2], middle.from[2], two.from[2]);
  return [pair, sheet(lying, foot, levelM, Math.min(clearM, lying.clearM))];
}

/** Up to the level from where its way ends. */
const hung = ({ from, to }: FreeWay, levelM: number): Straight => ({
  from,
  to: [to[0], to[1], levelM],
});

function rods(all: readonly Straight[], clearM: number, where: string): InnerAnode {
  const lengthM = lengthOf(all);
  const how = all.length === 1 ? "A rod" : "Two rods";
  const form: InnerAnodeForm = {
    kind: "RODS",
    rods: all.map(({ from, to }) => ({ from, to })),
    radiusM: ROD_RADIUS_M,
  };
  return {
    form,
    words: `${how} of {${2000 * ROD_RADIUS_M} mm}, {${Math.round((1000 * lengthM) / all.length)} mm} long, ${where}`,
    clearanceMm: Math.floor(1000 * (clearM - ROD_RADIUS_M)),
    areaM2: innerArea(form),
  };
}

function sheet(
  { axis, from, to }: FreeWay,
  footM: number,
  levelM: number,
  clearM: number,
): InnerAnode {
  const across = axis === 0 ? 1 : 0;
  const least: [number, number, number] = [from[0], from[1], footM];
  const most: [number, number, number] = [to[0], to[1], levelM];
  least[across] = from[across] - SHEET_M / 2;
  most[across] = from[across] + SHEET_M / 2;
  const lengthM = to[axis] - from[axis];
  const highM = levelM - footM;
  const form: InnerAnodeForm = { kind: "SHEET", least, most };
  return {
    form,
    words: `A sheet of {${1000 * SHEET_M} mm}, {${Math.round(1000 * lengthM)} × ${Math.round(1000 * highM)} mm}, on edge along the hollow`,
    clearanceMm: Math.floor(1000 * (clearM - SHEET_M / 2)),
    areaM2: innerArea(form),
  };
}

function longer(one: FreeWay | null, other: FreeWay | null): FreeWay | null {
  if (!one || !other) return one ?? other;
  return other.enclosedM > one.enclosedM ? other : one;
}
