/** A view from a side and a height: turned about the upright axis, then tipped. */
export type View = {
  /** Round the tank, rad; 0 looks from the front, along y. */
  readonly turn: number;
  /** Above the horizon, rad, 0 to `STEEPEST`. */
  readonly tip: number;
  /** Times as large as when the whole tank just shows, `LEAST_ZOOM` to `MOST_ZOOM`. */
  readonly zoom: number;
};

export const FIRST_VIEW: View = { turn: -0.6, tip: 0.7, zoom: 1 };
/** Just short of straight down: there "up" in the picture would have no way to point. */
const STEEPEST = Math.PI / 2 - 0.01;
export const LEAST_ZOOM = 0.6;
export const MOST_ZOOM = 6;

/** Share of the picture that a part takes up at first, and how near the view goes for it. */
const [PART_SHARE, NEAREST_FIRST] = [0.4, 2] as const;

/**
 * The first view: of the whole tank, nearer where the part is small in it.
 *
 * @param tankM, partM longest measures, m, > 0
 * @example firstView(2, 0.4).zoom // 2: the ends of a long trough are out of the picture
 */
export function firstView(tankM: number, partM: number): View {
  const zoom = Math.min(NEAREST_FIRST, Math.max(1, (PART_SHARE * tankM) / partM));
  return { ...FIRST_VIEW, zoom };
}

/** Turned and tipped further, within what can be seen. @param by rad @param up rad */
export function turned({ turn, tip, zoom }: View, by: number, up: number): View {
  return { turn: turn + by, tip: Math.min(STEEPEST, Math.max(0, tip + up)), zoom };
}

export function zoomed(view: View, by: number): View {
  return { ...view, zoom: Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, view.zoom * by)) };
}

/**
 * From what is looked at to the eye, as a unit vector.
 * @example eyeward({ turn: 0, tip: 0, zoom: 1 }) // [0, -1, 0]: from the front
 */
export function eyeward({ turn, tip }: View): readonly [number, number, number] {
  return [-Math.sin(turn) * Math.cos(tip), -Math.cos(turn) * Math.cos(tip), Math.sin(tip)];
}

/**
 * Which way along the tank an arrow key points as it is seen, in quarter turns: right is right on the screen.
 *
 * @param right −1, 0 or 1
 * @param up    −1, 0 or 1
 * @returns steps along and across the tank
 */
export function alongTank(
  { turn }: View,
  right: number,
  up: number,
): { readonly along: number; readonly across: number } {
  const quarter = (Math.round(turn / (Math.PI / 2)) * Math.PI) / 2;
  const [cos, sin] = [Math.round(Math.cos(quarter)), Math.round(Math.sin(quarter))];
  // Adding 0 makes −0 a plain 0.
  return { along: cos * right + sin * up + 0, across: cos * up - sin * right + 0 };
}
