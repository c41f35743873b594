/** A point of a table: x first, then y. */
export type TablePoint = readonly [x: number, y: number];

/**
 * Smooth curve through a table that never overshoots it: piecewise cubic Hermite whose slopes keep each
 * piece as monotone as its two ends.
 *
 * Source: F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238; inner slopes by
 * F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300 (both from memory).
 *
 * @param points at least two, x strictly increasing
 * @returns the curve; outside the table it throws RangeError
 * @throws RangeError if there are too few points, or x does not increase
 * @example monotoneCurve([[0, 0], [1, 1], [2, 1]])(0.5) // 0.6875
 */
export function monotoneCurve(points: readonly TablePoint[]): (x: number) => number {
  checkTable(points);
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const slopes = monotoneSlopes(xs, ys);
  const first = at(xs, 0);
  const last = at(xs, xs.length - 1);
  return (x) => {
    if (!(x >= first && x <= last)) {
      throw new RangeError(`x must be from ${first} to ${last}, got ${x}`);
    }
    let piece = 0;
    while (piece < xs.length - 2 && x > at(xs, piece + 1)) piece += 1;
    const width = at(xs, piece + 1) - at(xs, piece);
    return hermite(
      (x - at(xs, piece)) / width,
      at(ys, piece),
      at(ys, piece + 1),
      at(slopes, piece) * width,
      at(slopes, piece + 1) * width,
    );
  };
}

/**
 * The x at which an increasing function reaches `target`, by bisection down to rounding.
 *
 * @param increasing continuous and not decreasing on [least, most]
 * @throws RangeError if `target` is not reached on [least, most]
 * @example solveIncreasing((x) => x * x, 4, 0, 10) // 2
 */
export function solveIncreasing(
  increasing: (x: number) => number,
  target: number,
  least: number,
  most: number,
): number {
  if (!(increasing(least) <= target && target <= increasing(most))) {
    throw new RangeError(
      `target must be from ${increasing(least)} to ${increasing(most)}, got ${target}`,
    );
  }
  let low = least;
  let high = most;
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (increasing(middle) < target) low = middle;
    else high = middle;
  }
}

function checkTable(points: readonly TablePoint[]): void {
  if (points.length < 2) {
    throw new RangeError(`a curve needs at least 2 points, got ${points.length}`);
  }
  points.forEach(([x, y], index) => {
    const before = points[index - 1];
    if (!Number.isFinite(x) || !Number.isFinite(y) || (before && before[0] >= x)) {
      throw new RangeError(`x must increase from point to point, got (${x}, ${y}) at ${index}`);
    }
  });
}

function monotoneSlopes(xs: readonly number[], ys: readonly number[]): number[] {
  const widths = xs.slice(1).map((x, index) => x - at(xs, index));
  const secants = widths.map((width, index) => (at(ys, index + 1) - at(ys, index)) / width);
  const count = xs.length;
  if (count === 2) return [at(secants, 0), at(secants, 0)];
  return xs.map((_, index) => {
    if (index === 0) {
      return endSlope(at(widths, 0), at(widths, 1), at(secants, 0), at(secants, 1));
    }
    if (index === count - 1) {
      return endSlope(
        at(widths, count - 2),
        at(widths, count - 3),
        at(secants, count - 2),
        at(secants, count - 3),
      );
    }
    return innerSlope(
      at(widths, index - 1),
      at(widths, index),
      at(secants, index - 1),
      at(secants, index),
    );
  });
}

/** Weighted harmonic mean of the two secants; flat where the table turns. */
function innerSlope(before: number, after: number, left: number, right: number): number {
  if (left * right <= 0) return 0;
  const weightLeft = 2 * after + before;
  const weightRight = after + 2 * before;
  return (weightLeft + weightRight) / (weightLeft / left + weightRight / right);
}

/** Three-point slope at an end, kept to the sign of its secant and to three times it. */
function endSlope(near: number, far: number, nearSecant: number, farSecant: number): number {
  const slope = ((2 * near + far) * nearSecant - near * farSecant) / (near + far);
  if (slope * nearSecant <= 0) return 0;
  if (nearSecant * farSecant <= 0 && Math.abs(slope) > 3 * Math.abs(nearSecant)) {
    return 3 * nearSecant;
  }
  return slope;
}

function hermite(t: number, y0: number, y1: number, rise0: number, rise1: number): number {
  const u = 1 - t;
  return (
    u * u * (1 + 2 * t) * y0 + u * u * t * rise0 + t * t * (3 - 2 * t) * y1 - t * t * u * rise1
  );
}

/** An element known to exist; the check keeps a slip from becoming NaN. */
function at(values: readonly number[], index: number): number {
  const value = values[index];
  if (value === undefined) throw new RangeError(`no value at ${index} of ${values.length}`);
  return value;
}
