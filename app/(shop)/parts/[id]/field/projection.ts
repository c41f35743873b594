/** A view from a side and a height: turned about the upright axis, then tipped, without perspective. */
export type View = {
  /** Round the tank, rad. */
  readonly turn: number;
  /** Above the horizon, rad, 0 to π/2. */
  readonly tip: number;
  readonly zoom: number;
};

export const FIRST_VIEW: View = { turn: -0.6, tip: 0.55, zoom: 1 };
const STEEPEST = Math.PI / 2;

/** Turned and tipped further, within what can be seen. */
export function turned({ turn, tip, zoom }: View, by: number, up: number): View {
  return { turn: turn + by, tip: Math.min(STEEPEST, Math.max(0, tip + up)), zoom };
}

export function zoomed(view: View, by: number): View {
  return { ...view, zoom: Math.min(6, Math.max(0.5, view.zoom * by)) };
}

/**
 * A place in the tank as it is seen: across and up the picture, and how near it is.
 * @example project(FIRST_VIEW, 0, 0, 0) // [0, 0, 0]
 */
export function project(
  { turn, tip }: View,
  x: number,
  y: number,
  z: number,
): readonly [number, number, number] {
  const across = Math.cos(turn) * x - Math.sin(turn) * y;
  const away = Math.sin(turn) * x + Math.cos(turn) * y;
  return [
    across,
    Math.cos(tip) * z + Math.sin(tip) * away,
    Math.sin(tip) * z - Math.cos(tip) * away,
  ];
}

/** The place on a level plane that lies under a move of the pointer, m. */
export function movedOnLevel(
  { turn, tip }: View,
  across: number,
  up: number,
): { readonly along: number; readonly cross: number } {
  // Seen from the side a level plane is a line: up and down then move nothing.
  const away = Math.sin(tip) > 0.15 ? up / Math.sin(tip) : 0;
  return {
    along: Math.cos(turn) * across + Math.sin(turn) * away,
    cross: -Math.sin(turn) * across + Math.cos(turn) * away,
  };
}
