/** Where the pieces of a load stand in its drawing, and what is said of each. */
import { type Load, outlineAt, type PackingSpace, type Place } from "@/lib/tanks";
import { formatMeasures, millimetres, type UnitSystem } from "@/lib/units";

/** A part of a load as its drawing names it. */
export type LoadLabel = {
  readonly id: string;
  readonly label: string;
  readonly description: string;
  readonly quantity: number;
};

/** The name of a piece: its part's mark, and which piece where there are several. @example "A·2" */
export function pieceLabel({ id, copy }: Pick<Place, "id" | "copy">, parts: readonly LoadLabel[]) {
  const part = parts.find((other) => other.id === id);
  if (!part) return "";
  return part.quantity > 1 ? `${part.label}·${copy}` : part.label;
}

export type Point = readonly [x: number, y: number];

export type Tag = { readonly at: Point; readonly text: string };

/**
 * Labels of pieces at the middle of each; those that would cover one another share one, the nearest to the reader first.
 *
 * @param pieces from the farthest to the nearest
 * @param apart  mm from which two labels stand clear of each other
 */
export function tagsOf(
  pieces: readonly { readonly middle: Point; readonly label: string }[],
  apart: number,
): Tag[] {
  const tags: { at: Point; labels: string[] }[] = [];
  for (const { middle, label } of pieces) {
    const near = tags.find(
      ({ at }) =>
        Math.abs(at[0] - middle[0]) < apart * Math.max(1, label.length / 2) &&
        Math.abs(at[1] - middle[1]) < apart,
    );
    if (near) near.labels.unshift(label);
    else tags.push({ at: middle, labels: [label] });
  }
  return tags.map(({ at, labels }) => ({ at, text: shortList(labels) }));
}

/** More than three names would run out of the drawing; the table has them all. */
const shortList = (labels: readonly string[]): string =>
  labels.length > 3 ? `${labels[0]} +${labels.length - 1}` : labels.join(" ");

/** Corners of a tilted piece from the side that shows its tilt, mm from its lower left corner, y upwards. */
export function tiltedCorners({ lie }: Pick<Place, "lie">): Point[] {
  if (lie.kind !== "TILTED") return [];
  const angle = (lie.tiltDegrees * Math.PI) / 180;
  const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
  const lean = lie.up * sin;
  return [
    [lean, 0],
    [lean + lie.along * cos, lie.along * sin],
    [lie.along * cos, lie.along * sin + lie.up * cos],
    [0, lie.up * cos],
  ];
}

/** Length and width inside the tank at a level, mm. */
export function insideAt({ shape }: Pick<Load, "shape">, levelMm: number) {
  return outlineAt(shape, millimetres(levelMm));
}

/** Where a piece hangs, from the walls at the tank's narrowest and from its floor. */
export type PlaceWords = {
  readonly left: string;
  readonly front: string;
  readonly floor: string;
  readonly turned: string;
};

/** @example placeWords(place, space, load, "METRIC").left // "120 mm" */
export function placeWords(
  place: Place,
  { clearanceMm }: Pick<Load, "clearanceMm">,
  units: UnitSystem,
): PlaceWords {
  const length = (...mm: number[]): string =>
    formatMeasures("length", mm, units, " × ", units === "US" ? {} : { decimals: 0 });
  const { lie } = place;
  const side = place.follows === "LENGTH" ? "along the tank" : "across the tank";
  const turned = {
    WHOLE: `level: ${length(place.lengthMm)} along, ${length(place.widthMm)} across, ${length(place.heightMm)} high`,
    TILTED: `tilted by ${"tiltDegrees" in lie ? Math.round(lie.tiltDegrees) : 0}° ${side}, ${length(lie.along, lie.up)} seen from the side, ${length(lie.across)} thick`,
    END_FOR_END: `upright, one end under: ${length(place.lengthMm)} along, ${length(place.widthMm)} across, ${length(lie.up)} high`,
  }[lie.kind];
  return {
    left: length(place.xMm + clearanceMm),
    front: length(place.yMm + clearanceMm),
    floor: length(place.zMm + clearanceMm),
    turned,
  };
}

/** Half the length and width of the free space, mm. */
export const halfOf = ({ lengthMm, widthMm }: PackingSpace): Point => [lengthMm / 2, widthMm / 2];
