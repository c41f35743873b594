/** Loads that are known to fit: a box is cut into pieces, so that there is a way to put them back. */
export type Size = readonly [number, number, number];

/** Numbers from 0 up to 1 that are the same for the same seed (a linear congruence; Numerical Recipes, from memory). */
export function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/**
 * Cuts a box into pieces by saw cuts right through, each as wide as the gap, and turns the pieces about.
 *
 * @param pieces how many, small enough for pieces of 40 mm
 * @param loose share that each piece is then planed off its length, width and height: 0 fits with no room to spare
 */
export function cutBox(
  whole: Size,
  pieces: number,
  gapMm: number,
  loose: number,
  random: () => number,
): Size[] {
  const least = 40;
  let parts: Size[] = [whole];
  while (parts.length < pieces) {
    parts.sort((a, b) => volume(b) - volume(a));
    const at = Math.floor(random() * Math.min(3, parts.length));
    const part = parts[at] ?? whole;
    const axis = Math.floor(random() * 3) as 0 | 1 | 2;
    const room = part[axis] - gapMm - 2 * least;
    if (room < 0) continue;
    const cut = Math.round(least + random() * room);
    parts = [...parts.filter((other) => other !== part), set(part, axis, cut)];
    parts.push(set(part, axis, part[axis] - gapMm - cut));
  }
  return parts.map((part) =>
    turned(
      part.map((side) => side * (1 - loose)),
      random,
    ),
  );
}

const volume = ([a, b, c]: Size): number => a * b * c;

function set(size: Size, axis: 0 | 1 | 2, value: number): Size {
  const [a, b, c] = size;
  return axis === 0 ? [value, b, c] : axis === 1 ? [a, value, c] : [a, b, value];
}

function turned(sides: readonly number[], random: () => number): Size {
  const [a = 0, b = 0, c = 0] = sides
    .map((side) => ({ side, rank: random() }))
    .sort((one, other) => one.rank - other.rank)
    .map(({ side }) => side);
  return [a, b, c];
}
