import type { TankShape } from "@/lib/tanks";

/** A load from the side, mm. */
export type PartSide = { readonly alongMm: number; readonly upMm: number };

/** Where things are in a tank's drawing: millimetres, y downwards. */
export type Frame = {
  readonly width: number;
  readonly height: number;
  /** x of the vessel's middle. */
  readonly centre: number;
  /** y of the rim, the floor and the bath's surface. */
  readonly rim: number;
  readonly floor: number;
  readonly surface: number;
  readonly depth: number;
  readonly level: number;
  /** Half the width inside, at a height over the floor. */
  readonly half: (heightMm: number) => number;
  /** Width of the vessel's line: grows with the drawing, so that a thumbnail still shows it. */
  readonly line: number;
};

/** Room beside the vessel for its lip, mm. */
const MARGIN_MM = 90;
/** Room over the rim for leads and supply, mm. */
const LEAD_ROOM_MM = 220;

/**
 * Lays out a drawing.
 *
 * @param levelMm height of the bath's surface over the floor; 0 when drained
 * @param spanMm least width of the drawing
 */
export function frameOf(shape: TankShape, levelMm: number, spanMm = 0): Frame {
  const { top, bottom } = sides(shape);
  const depth = shape.depthMm;
  const width = Math.max(spanMm, Math.max(top, bottom) + 2 * MARGIN_MM);
  const line = Math.min(22, Math.max(10, width / 60));
  const rim = LEAD_ROOM_MM;
  const floor = rim + depth;
  return {
    width,
    height: floor + line / 2,
    centre: width / 2,
    rim,
    floor,
    surface: floor - levelMm,
    depth,
    level: levelMm,
    half: (heightMm) => (bottom + ((top - bottom) * heightMm) / depth) / 2,
    line,
  };
}

/** Corners of the vessel's inside up to a height, as an SVG list of points. */
export function polygon({ centre, floor, half }: Frame, heightMm: number): string {
  const at = floor - heightMm;
  return [
    `${centre - half(heightMm)},${at}`,
    `${centre + half(heightMm)},${at}`,
    `${centre + half(0)},${floor}`,
    `${centre - half(0)},${floor}`,
  ].join(" ");
}

function sides(shape: TankShape): { top: number; bottom: number } {
  switch (shape.kind) {
    case "TAPERED_BOX":
      return { top: shape.topLengthMm, bottom: shape.bottomLengthMm };
    case "ROUND":
      return { top: shape.topDiameterMm, bottom: shape.bottomDiameterMm };
    case "MEASURED":
      // Only its free length is known; most tubs taper about so much.
      return { top: shape.lengthMm, bottom: shape.lengthMm * 0.86 };
  }
}
