import type { PartBox } from "./fit";
import type { Kind, PackingSpace } from "./packing-space";

/** Arithmetic error that a proof leaves room for. */
const DOUBT = 1e-9;

/**
 * Room that bodies take up with half the gap all round, against that of the free space grown likewise. Balls of half
 * the gap round every point of two bodies do not meet, so the sum cannot be above one, however the bodies are turned.
 *
 *   V + S·r + M·r² + 4/3·π·r³,  r = gap/2   (Steiner's formula for a convex body, from memory)
 *
 * With no gap this is the plain bound by volume (L0 of Martello, Pisinger & Vigo, Operations Research 48 (2000) 256,
 * from memory).
 *
 * @param boxes pieces that lie wholly in the free space
 * @returns above 1 only for a load that cannot be hung
 */
export function roomShare(
  boxes: readonly (PartBox & { readonly copies: number })[],
  space: PackingSpace,
  gapMm: number,
): number {
  const needed = boxes.reduce(
    (sum, { copies, ...box }) => sum + copies * grown(boxBody(box), gapMm / 2),
    0,
  );
  return needed / grown(spaceBody(space), gapMm / 2);
}

type Body = { readonly volume: number; readonly surface: number; readonly curvature: number };

function grown({ volume, surface, curvature }: Body, r: number): number {
  return volume + surface * r + curvature * r ** 2 + (4 / 3) * Math.PI * r ** 3;
}

function boxBody({ lengthMm: a, widthMm: b, heightMm: c }: PartBox): Body {
  return {
    volume: a * b * c,
    surface: 2 * (a * b + b * c + c * a),
    curvature: Math.PI * (a + b + c),
  };
}

function spaceBody(space: PackingSpace): Body {
  if (space.diameterMm === undefined) return boxBody(space);
  const [radius, height] = [space.diameterMm / 2, space.heightMm];
  return {
    volume: Math.PI * radius ** 2 * height,
    surface: 2 * Math.PI * radius * (radius + height),
    curvature: Math.PI * height + Math.PI ** 2 * radius,
  };
}

/**
 * Whether it is sure that pieces cannot hang level and square to the tank.
 *
 * A dual feasible function f maps shares of a length so that shares that fit side by side keep a sum of at most one.
 * Volumes measured with one such function a direction then fit too, if the pieces do; each piece counts with the way
 * to turn it that makes it least (Fekete & Schepers, Math. Methods Oper. Res. 60 (2004) 311, from memory).
 *
 * @param kinds pieces; those that hang tilted or end for end are left out of the account
 */
export function cannotHangLevel(
  kinds: readonly Kind[],
  space: PackingSpace,
  gapMm: number,
): boolean {
  const share = (part: number, whole: number): number =>
    Math.max(0, (part + gapMm) / (whole + gapMm) - DOUBT);
  const level = kinds
    .filter(({ ways }) => ways.every(({ lie }) => lie.kind === "WHOLE"))
    .map(({ ways, copies }) => ({
      copies,
      ways: ways.map((way) => [
        share(way.lengthMm, space.lengthMm),
        share(way.widthMm, space.widthMm),
        share(way.heightMm, space.heightMm),
      ]),
    }));
  return MEASURES.some((along) =>
    MEASURES.some((across) =>
      MEASURES.some((up) => {
        const least = level.map(({ ways, copies }) => {
          const volumes = ways.map(([a = 0, b = 0, c = 0]) => along(a) * across(b) * up(c));
          return copies * Math.min(...volumes);
        });
        return least.reduce((sum, value) => sum + value, 0) > 1 + DOUBT;
      }),
    ),
  );
}

type Measure = (share: number) => number;

/** Counts in steps of 1/k: of shares above 1/(k + 1), k fit side by side. */
const steps =
  (k: number): Measure =>
  (share) => {
    const times = (k + 1) * share;
    return Number.isInteger(times) ? share : Math.floor(times) / k;
  };

/** What leaves less than ε takes all; what is smaller than ε takes nothing. */
const cut =
  (epsilon: number): Measure =>
  (share) => {
    if (share > 1 - epsilon) return 1;
    return share < epsilon ? 0 : share;
  };

const MEASURES: readonly Measure[] = [
  (share) => share,
  steps(1),
  steps(2),
  steps(3),
  steps(4),
  cut(1 / 3),
  cut(1 / 4),
];
