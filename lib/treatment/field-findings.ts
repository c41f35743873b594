import { layeredShapeLength, operatingBand } from "@/lib/electrolysis";
import {
  type Cancel,
  lookAt,
  type PartDistribution,
  type Progress,
  shapeLengthWithError,
  slowTenth,
} from "@/lib/field";
import { currentSpread } from "./candidate";
import { fieldBath, fieldDrive, type FieldSubject } from "./field-bath";
import type { FieldArrangement, FieldFindings, SideSpread } from "./field-types";
import { faceHours, INSIDE_MATTERS, later } from "./hours";
import { cellOf } from "./tank-option";

/**
 * Density of the slowest tenth of an ordinary open side over the side's mean. The charges in `RUST_CHARGE_AH_PER_M2`
 * were tuned with the means of whole sides, while a side is done when its slowest tenth is: what that tenth gets is
 * divided by this before it is held against them. Assumption.
 */
export const ORDINARY_SLOW_TENTH = 0.75;

export type FindOptions = {
  /** Of the coarser of the two grids; 100 000 when left out. */
  readonly cells?: number;
  readonly onProgress?: Progress;
  readonly cancel?: Cancel;
};

/**
 * Works out all that the field says of a planned part: seconds of work.
 *
 * @throws RangeError naming a measure that is out of range, or what does not hang as it should
 * @throws Cancelled when told to end
 * @example findField(subject).planned.hours.worst.p50 // h
 */
export function findField(subject: FieldSubject, options: FindOptions = {}): FieldFindings {
  const { cells = 100_000, cancel } = options;
  const bath = fieldBath(subject);
  const shapeLengthM = shapeLengthWithError(bath, cells, cancel);
  options.onProgress?.(0.5);
  const look = lookAt(bath, {
    cells,
    polarised: fieldDrive(subject),
    ...(cancel && { cancel }),
  });
  const [part] = look.parts;
  if (!part) throw new RangeError("the bath has no part in it");
  options.onProgress?.(1);
  return {
    cells: 8 * cells,
    conductivitySPerM: subject.chosen.bath.conductivitySPerM,
    shapeLengthM,
    wetAreaM2: part.wetAreaM2,
    insideShare: part.insideShare,
    planned: arrangementOf(subject, shapeLengthM.value, part),
    innerAnodes: [],
    turns: [],
    wear: [],
  };
}

/** Hours of a place with the median charge, by its density over the part's mean; what the picture is shaded by. */
export function placeHours(subject: FieldSubject): (ratio: number) => number {
  const { part, chosen } = subject;
  const mean = chosen.band.mid.currentA / chosen.wetAreaM2;
  return (ratio) => {
    const density = (ratio * mean) / ORDINARY_SLOW_TENTH;
    return density > 0 ? faceHours(part, density).p50 : Infinity;
  };
}

function arrangementOf(
  { part: condition, chosen }: FieldSubject,
  shapeLengthM: number,
  part: PartDistribution,
): FieldArrangement {
  const { tank, wetAreaM2, volumeL, bath } = chosen;
  const cell = cellOf(tank, wetAreaM2, volumeL);
  const band = operatingBand({
    ...cell,
    shapeLengthM: layeredShapeLength(shapeLengthM, wetAreaM2, tank.anode.areaM2),
    conductivitySPerM: bath.conductivitySPerM,
  });
  const spread = spreadOf(part);
  const mean = band.mid.currentA / wetAreaM2;
  const about = currentSpread(band);
  const outside = faceHours(condition, mean * spread.outside, about);
  const inside = spread.inside === null ? null : faceHours(condition, mean * spread.inside, about);
  return {
    shapeLengthM,
    currentA: band.mid.currentA,
    spread,
    hours: { outside, inside, worst: inside ? later(outside, inside) : outside },
    lagShare: part.lagShare,
  };
}

function spreadOf({ outside, inside, insideShare }: PartDistribution): SideSpread {
  const counts = inside !== null && insideShare >= INSIDE_MATTERS;
  return {
    outside: slowTenth(outside) / ORDINARY_SLOW_TENTH,
    inside: counts ? slowTenth(inside) / ORDINARY_SLOW_TENTH : null,
  };
}
