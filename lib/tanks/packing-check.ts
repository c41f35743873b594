import { millimetres } from "@/lib/units";
import type { PartBox } from "./fit";
import type { Load, Place } from "./load";
import { freeBox, type FreeBox } from "./shape";

/** Arithmetic error forgiven, mm. */
const TOLERANCE_MM = 1e-5;
/** A tilt is given to a tenth of a degree; the box round the part may be wrong by so much of its diagonal. */
const TENTH_DEGREE = Math.PI / 1800;

/**
 * What is wrong with an arrangement: every piece must be there once, be as big as its part, lie in the free space of
 * the tank, and keep the gap to every other. It shares nothing with the search, so that a mistake of the one is not a
 * mistake of the other.
 *
 * @returns the faults in words, none when the arrangement can be hung
 * @example checkPacking(load, packing.places) // []
 */
export function checkPacking(load: Load, places: readonly Place[]): string[] {
  const free = freeBox(load.shape, millimetres(load.workingLevelMm), load.clearanceMm);
  const faults = countFaults(load, places);
  for (const [index, place] of places.entries()) {
    const name = `${place.id} (${place.copy})`;
    const part = load.parts.find(({ id }) => id === place.id);
    if (part && !isAsBigAs(place, part.box, free))
      faults.push(`${name} is not the size of its part`);
    if (corners(place).some((corner) => !holds(free, corner))) faults.push(`${name} is not inside`);
    for (const other of places.slice(index + 1)) {
      if (gapBetween(place, other) < load.gapMm - TOLERANCE_MM) {
        faults.push(`${name} is too near to ${other.id} (${other.copy})`);
      }
    }
  }
  return faults;
}

function countFaults({ parts }: Load, places: readonly Place[]): string[] {
  const wanted = parts.flatMap(({ id, quantity }) =>
    Array.from({ length: quantity }, (_, index) => `${id} (${index + 1})`),
  );
  const hung = places.map(({ id, copy }) => `${id} (${copy})`);
  return [
    ...wanted.filter((name) => !hung.includes(name)).map((name) => `${name} is missing`),
    ...hung.filter((name) => !wanted.includes(name)).map((name) => `${name} is not in the load`),
    ...hung
      .filter((name, index) => hung.indexOf(name) !== index)
      .map((name) => `${name} hangs twice`),
  ];
}

/** The measures of the part, by size: a turned part has the same. */
const bySize = (...measures: readonly number[]): number[] => [...measures].sort((a, b) => a - b);

const alike = (some: readonly number[], others: readonly number[], error: number): boolean =>
  some.every((value, index) => Math.abs(value - (others[index] ?? Infinity)) <= error);

function isAsBigAs({ lie, follows, ...place }: Place, box: PartBox, free: FreeBox): boolean {
  const turned = bySize(lie.along, lie.across, lie.up);
  if (!alike(turned, bySize(box.lengthMm, box.widthMm, box.heightMm), TOLERANCE_MM)) return false;
  const [along, across] =
    follows === "LENGTH" ? [place.lengthMm, place.widthMm] : [place.widthMm, place.lengthMm];
  switch (lie.kind) {
    case "WHOLE":
      return alike([along, across, place.heightMm], [lie.along, lie.across, lie.up], TOLERANCE_MM);
    case "END_FOR_END":
      // It stands out of the bath: what is under the surface takes up the whole height.
      return alike(
        [along, across, place.heightMm],
        [lie.along, lie.across, free.heightMm],
        TOLERANCE_MM,
      );
    case "TILTED": {
      const angle = (lie.tiltDegrees * Math.PI) / 180;
      const room = [
        lie.along * Math.cos(angle) + lie.up * Math.sin(angle),
        lie.across,
        lie.along * Math.sin(angle) + lie.up * Math.cos(angle),
      ];
      return alike(
        [along, across, place.heightMm],
        room,
        TENTH_DEGREE * Math.hypot(lie.along, lie.up),
      );
    }
  }
}

type Point = readonly [x: number, y: number, z: number];

function corners({ xMm, yMm, zMm, lengthMm, widthMm, heightMm }: Place): Point[] {
  return [xMm, xMm + lengthMm].flatMap((x) =>
    [yMm, yMm + widthMm].flatMap((y) => [zMm, zMm + heightMm].map((z): Point => [x, y, z])),
  );
}

function holds({ lengthMm, widthMm, heightMm, diameterMm }: FreeBox, [x, y, z]: Point): boolean {
  const between = (value: number, most: number): boolean =>
    value >= -TOLERANCE_MM && value <= most + TOLERANCE_MM;
  if (!between(z, heightMm)) return false;
  if (diameterMm === undefined) return between(x, lengthMm) && between(y, widthMm);
  const radius = diameterMm / 2;
  return Math.hypot(x - radius, y - radius) <= radius + TOLERANCE_MM;
}

/** The widest of the gaps along, across and upwards; below zero where two pieces run into each other. */
function gapBetween(one: Place, other: Place): number {
  const gap = (from: number, size: number, otherFrom: number, otherSize: number): number =>
    Math.max(from, otherFrom) - Math.min(from + size, otherFrom + otherSize);
  return Math.max(
    gap(one.xMm, one.lengthMm, other.xMm, other.lengthMm),
    gap(one.yMm, one.widthMm, other.yMm, other.widthMm),
    gap(one.zMm, one.heightMm, other.zMm, other.heightMm),
  );
}
