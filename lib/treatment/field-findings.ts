import { layeredShapeLength, operatingBand } from "@/lib/electrolysis";
import {
  BathField,
  type Cancel,
  type FieldFigures,
  type PartDistribution,
  type Progress,
  slowTenth,
  type TwoGrids,
  withError,
} from "@/lib/field";
import { wholeLies, type WholeLie } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import { currentSpread } from "./candidate";
import { fieldBath, fieldDrive, type FieldSubject } from "./field-bath";
import { type InnerAnode, innerCandidates, innerForms } from "./field-inner";
import type { FieldArrangement, FieldFindings, InnerAnodeFound, TurnFound } from "./field-types";
import { faceHours, INSIDE_MATTERS, sideHours, type SideSpread } from "./hours";
import { cellOf } from "./tank-option";

/**
 * Density of the slowest tenth of an ordinary open side over the side's mean. The charges in `RUST_CHARGE_AH_PER_M2`
 * were tuned with the means of whole sides, while a side is done when its slowest tenth is: what that tenth gets is
 * divided by this before it is held against them. Assumption.
 */
export const ORDINARY_SLOW_TENTH = 0.75;

const USUAL_CELLS = 100_000;
/** Cells of the finer of two grids over those of the coarser. */
const FINER = 8;
/** An inner anode helps when it takes this share off the hours of the slower side. */
const HELPS_FROM = 0.05;

export type FindOptions = {
  /** Of the coarser of the two grids; 100 000 when left out. */
  readonly cells?: number;
  readonly onProgress?: Progress;
  readonly cancel?: Cancel;
};

/**
 * Works out all that the field says of a planned part: a few seconds of work.
 *
 * Each arrangement is solved at the current that its own shape length lets the supply drive. Hours are those of one dip.
 *
 * @throws RangeError naming a measure that is out of range, or what does not hang as it should
 * @throws Cancelled when told to end
 * @example findField(subject).planned.hours.worst.p50 // h
 */
export function findField(subject: FieldSubject, options: FindOptions = {}): FieldFindings {
  const { cells = USUAL_CELLS, cancel } = options;
  const field = new BathField(fieldBath(subject), cells, cancel);
  try {
    const inner = innerCandidates(subject, field);
    const lies = otherLies(subject);
    const steps = new Steps(3 + inner.length + lies.length, options);
    const length = shapeLengthOf({ subject, cells, cancel }, field, steps);
    const solving = { subject, cells, cancel, finer: length.value / length.coarse };
    const planned = arrangementOf(solving, field, 0);
    steps.done(1);
    return {
      cells: length.cells,
      conductivitySPerM: subject.chosen.bath.conductivitySPerM,
      shapeLengthM: { value: length.value, error: length.error },
      wetAreaM2: planned.part.wetAreaM2,
      insideShare: planned.part.insideShare,
      planned: planned.found,
      innerAnodes: triedInside(solving, inner, planned.found, steps),
      turns: triedTurns(solving, lies, planned.found, steps),
      wear: planned.figures.wear,
    };
  } finally {
    field.release();
  }
}

/** Hours of a place with the median charge, by its density over the part's mean; what the picture is shaded by. */
export function placeHours(subject: FieldSubject): (ratio: number) => number {
  const { part, chosen } = subject;
  const ordinary = chosen.band.mid.currentA / chosen.wetAreaM2 / ORDINARY_SLOW_TENTH;
  return (ratio) => (ratio > 0 ? faceHours(part, ratio * ordinary).p50 : Infinity);
}

/** Tells how far the work is. */
class Steps {
  private at = 0;

  constructor(
    private readonly all: number,
    private readonly options: FindOptions,
  ) {}

  done(steps: number): void {
    this.at += steps;
    this.options.onProgress?.(Math.min(1, this.at / this.all));
  }
}

type Solving = {
  readonly subject: FieldSubject;
  readonly cells: number;
  readonly cancel: Cancel | undefined;
  /** Shape length on the finer grid over that on the coarser: taken to hold for every arrangement. */
  readonly finer: number;
};

type TwoGridLength = TwoGrids & { readonly coarse: number; readonly cells: number };

function shapeLengthOf(
  { subject, cells, cancel }: Omit<Solving, "finer">,
  field: BathField,
  steps: Steps,
): TwoGridLength {
  const coarse = field.shapeLength();
  const fine = new BathField(fieldBath(subject), FINER * cells, cancel);
  try {
    const ratio = Math.cbrt(fine.cells / field.cells);
    const length = withError(coarse, fine.shapeLength(), ratio);
    steps.done(2);
    return { ...length, coarse, cells: fine.cells };
  } finally {
    fine.release();
  }
}

/** @param innerAreaM2 of anodes hung inside, m² */
function arrangementOf(
  { subject, finer }: Solving,
  field: BathField,
  innerAreaM2: number,
): {
  readonly found: FieldArrangement;
  readonly figures: FieldFigures;
  readonly part: PartDistribution;
} {
  const { part: condition, chosen } = subject;
  const { wetAreaM2, bath, volumeL } = chosen;
  const anodeAreaM2 = chosen.tank.anode.areaM2 + innerAreaM2;
  const tank = { ...chosen.tank, anode: { ...chosen.tank.anode, areaM2: anodeAreaM2 } };
  const shapeLengthM = field.shapeLength() * finer;
  const band = operatingBand({
    ...cellOf(tank, wetAreaM2, volumeL),
    shapeLengthM:
      layeredShapeLength(shapeLengthM, wetAreaM2, anodeAreaM2) * (tank.measured?.bathFactor ?? 1),
    conductivitySPerM: bath.conductivitySPerM,
  });
  const { currentA } = band.mid;
  const figures = field.figures({ ...fieldDrive(subject), currentA });
  const [part] = figures.parts;
  if (!part) throw new RangeError("the bath has no part in it");
  const spread = spreadOf(part);
  const hollow = { insideShare: 0, insideLag: 1, seen: { spread, withInnerAnode: null } };
  return {
    ...{ figures, part },
    found: {
      ...{ shapeLengthM, currentA, spread },
      hours: sideHours(condition, currentA, wetAreaM2, hollow, currentSpread(band)),
      lagShare: part.lagShare,
    },
  };
}

function spreadOf({ outside, inside, insideShare }: PartDistribution): SideSpread {
  const counts = inside !== null && insideShare >= INSIDE_MATTERS;
  return {
    outside: slowTenth(outside) / ORDINARY_SLOW_TENTH,
    inside: counts ? slowTenth(inside) / ORDINARY_SLOW_TENTH : null,
  };
}

/** What helps of what could be hung inside, the most helpful first. */
function triedInside(
  solving: Solving,
  inner: readonly InnerAnode[],
  planned: FieldArrangement,
  steps: Steps,
): readonly InnerAnodeFound[] {
  const before = planned.hours.worst.p50;
  const found = inner.flatMap(({ form, words, clearanceMm, areaM2 }) => {
    const tried = solvedWith(solving, solving.subject, innerForms(form), areaM2);
    steps.done(1);
    if (!tried) return [];
    return [{ ...tried, form, words, clearanceMm, savesH: before - tried.hours.worst.p50 }];
  });
  return found
    .filter(({ savesH }) => savesH > HELPS_FROM * before)
    .sort((one, other) => other.savesH - one.savesH);
}

/** The ways that the part lies whole in its tank, but for the plan's own. */
function otherLies({ part, chosen }: FieldSubject): readonly WholeLie[] {
  const { tank, fit } = chosen;
  const { lie } = fit;
  if (lie.kind !== "WHOLE") return [];
  const lies = wholeLies(part, tank.shape, millimetres(tank.workingLevelMm), tank.clearanceMm);
  return lies.filter(
    ({ up, along, across }) => up !== lie.up || along !== lie.along || across !== lie.across,
  );
}

function triedTurns(
  solving: Solving,
  lies: readonly WholeLie[],
  planned: FieldArrangement,
  steps: Steps,
): readonly TurnFound[] {
  const { subject } = solving;
  const turns: TurnFound[] = [turnOf(subject.chosen.fit.words, true, planned)];
  for (const lie of lies) {
    const words = `{${Math.round(lie.along)} mm} along, {${Math.round(lie.across)} mm} across, {${Math.round(lie.up)} mm} high.`;
    const chosen = { ...subject.chosen, fit: { fits: true, lie, words } as const };
    const tried = solvedWith(solving, { ...subject, chosen }, [], 0);
    steps.done(1);
    if (tried) turns.push(turnOf(words, false, tried));
  }
  return turns.sort((one, other) => one.hours.p50 - other.hours.p50);
}

const turnOf = (words: string, planned: boolean, found: FieldArrangement): TurnFound => ({
  ...{ words, planned },
  hours: found.hours.worst,
  shapeLengthM: found.shapeLengthM,
});

/** An arrangement solved on a grid of its own; null where it cannot hang so. */
function solvedWith(
  solving: Solving,
  subject: FieldSubject,
  inner: ReturnType<typeof innerForms>,
  innerAreaM2: number,
): FieldArrangement | null {
  const field = fieldOrNot(() => {
    return new BathField(fieldBath(subject, undefined, inner), solving.cells, solving.cancel);
  });
  if (!field) return null;
  try {
    return arrangementOf({ ...solving, subject }, field, innerAreaM2).found;
  } finally {
    field.release();
  }
}

/** What comes too near, or does not lie in the tank, is no arrangement, not a fault. */
function fieldOrNot(make: () => BathField): BathField | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
