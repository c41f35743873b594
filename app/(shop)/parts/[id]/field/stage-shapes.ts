import { BufferAttribute, BufferGeometry, DataTexture, NearestFilter, SRGBColorSpace } from "three";
import type { Bathful, StreamLines } from "@/lib/field";
import { onScale } from "./hour-steps";
import { type Bar, type Tubes, tubesAlong } from "./tubes";
import { outlineAt, stripQuads, trianglesOf } from "./vessel-outline";
import type { FieldPicture } from "./worker-words";

/** Where a density lies on the scale of tones, 0 to 1. */
export type ToScale = (ratio: number) => number;

/** Densities over the mean that the table of the scale knows, as powers of ten. */
const LOW = -4;
const HIGH = 2;
const TABLE = 600;

/**
 * From a density over the mean to the scale of tones, by a table: it is asked for every corner.
 * @param hours of a density over the mean, falling
 */
export function scaleOf(hours: (ratio: number) => number, limits: readonly number[]): ToScale {
  const table = Float32Array.from({ length: TABLE + 1 }, (_, at) =>
    onScale(limits, hours(10 ** (LOW + ((HIGH - LOW) * at) / TABLE))),
  );
  return (ratio) => {
    const at = Math.round((TABLE * (Math.log10(Math.max(ratio, 1e-9)) - LOW)) / (HIGH - LOW));
    return table[Math.min(TABLE, Math.max(0, at))] ?? 0;
  };
}

/** The tones side by side, each as long as the others, with sharp borders. */
export function toneTexture(tones: readonly string[]): DataTexture {
  const data = new Uint8Array(
    tones.flatMap((tone) => [...[1, 3, 5].map((at) => parseInt(tone.slice(at, at + 2), 16)), 255]),
  );
  const texture = new DataTexture(data, tones.length, 1);
  texture.colorSpace = SRGBColorSpace;
  texture.magFilter = NearestFilter;
  texture.minFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

export type SurfaceParts = {
  readonly wet: BufferGeometry;
  readonly dry: BufferGeometry;
  readonly inner: BufferGeometry;
};

/** The surface apart: what the bath reaches, what stands above it, and anodes hung inside. */
export function surfaceParts({ look, shape }: FieldPicture, scale: ToScale): SurfaceParts {
  const { electrode, corners, ratio } = look.surface;
  const patches = [...ratio.keys()];
  const isPart = (patch: number): boolean =>
    look.electrodes[electrode[patch] ?? 0]?.kind === "PART";
  const isWet = (patch: number): boolean => !Number.isNaN(ratio[patch] ?? Number.NaN);
  const made = (which: (patch: number) => boolean): BufferGeometry =>
    patchGeometry(patches.filter(which), corners, shape.normals, (corner) =>
      scale(shape.ratio[corner] ?? Number.NaN),
    );
  return {
    wet: made((patch) => isPart(patch) && isWet(patch)),
    dry: made((patch) => isPart(patch) && !isWet(patch)),
    inner: made((patch) => !isPart(patch)),
  };
}

function patchGeometry(
  patches: readonly number[],
  corners: Float32Array,
  normals: Float32Array,
  place: (corner: number) => number,
): BufferGeometry {
  const positions = new Float32Array(9 * patches.length);
  const outwards = new Float32Array(9 * patches.length);
  const places = new Float32Array(6 * patches.length);
  patches.forEach((patch, at) => {
    positions.set(corners.subarray(9 * patch, 9 * patch + 9), 9 * at);
    outwards.set(normals.subarray(9 * patch, 9 * patch + 9), 9 * at);
    for (let corner = 0; corner < 3; corner++) {
      places[6 * at + 2 * corner] = place(3 * patch + corner);
      places[6 * at + 2 * corner + 1] = 0.5;
    }
  });
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("normal", new BufferAttribute(outwards, 3));
  geometry.setAttribute("uv", new BufferAttribute(places, 2));
  return geometry;
}

function fromTriangles(corners: Float32Array): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(corners, 3));
  geometry.computeVertexNormals();
  return geometry;
}

function fromTubes({ positions, normals, indices }: Tubes): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("normal", new BufferAttribute(normals, 3));
  geometry.setIndex(new BufferAttribute(indices, 1));
  return geometry;
}

export type TankParts = {
  /** Walls and floor, seen from inside. */
  readonly walls: BufferGeometry;
  readonly rim: BufferGeometry;
  /** Edges that stand upright, and round the floor. */
  readonly edges: BufferGeometry;
  readonly water: BufferGeometry;
  readonly waterline: BufferGeometry;
  /** Seen from inside. */
  readonly strips: BufferGeometry;
};

/** Girths of rim and edges, of the tank's longest measure. */
const RIM = 0.005;
const EDGE = 0.0025;

/** The tank to scale. */
export function tankParts(bath: Bathful): TankParts {
  const { vessel, levelM } = bath;
  const at = (z: number): Corners => outlineAt(vessel, z).map(([x, y]) => [x, y, z] as const);
  const [foot, level, top] = [at(0), at(levelM), at(vessel.depthM)];
  const size = Math.max(...top.map(([x, y]) => 2 * Math.hypot(x, y)));
  const ring = (corners: Corners): Bar => ({ points: corners.flat(), closed: true });
  const uprights = foot
    .map((corner, side): Bar => ({ points: [...corner, ...(top[side] ?? corner)] }))
    .filter(() => vessel.kind === "BOX");
  return {
    walls: fromTriangles(Float32Array.from([...wall(foot, top), ...lid(foot)])),
    rim: fromTubes(tubesAlong([ring(top)], RIM * size)),
    edges: fromTubes(tubesAlong([ring(foot), ...uprights], EDGE * size)),
    water: fromTriangles(Float32Array.from(lid(level))),
    waterline: fromTubes(tubesAlong([ring(level)], EDGE * size)),
    strips: fromTriangles(trianglesOf(stripQuads(inset(bath)).map(([a, b, c, d]) => [b, a, d, c]))),
  };
}

type Corners = readonly (readonly [number, number, number])[];

/** From one outline up to another, facing inwards. */
function wall(low: Corners, high: Corners): number[] {
  return low.flatMap((a, side) => {
    const next = (side + 1) % low.length;
    const [b, c, d] = [low[next] ?? a, high[next] ?? a, high[side] ?? a];
    return [a, c, b, a, d, c].flat();
  });
}

function lid(outline: Corners): number[] {
  const [first] = outline;
  if (!first) return [];
  return outline
    .slice(2)
    .flatMap((corner, side) => [...first, ...(outline[side + 1] ?? first), ...corner]);
}

/** A hair's breadth smaller, so that strips lie before the wall and not in it. */
function inset(bath: Bathful): Bathful {
  const { vessel } = bath;
  const smaller = Object.fromEntries(
    Object.entries(vessel).map(([name, value]) => [
      name,
      typeof value === "number" && name !== "depthM" ? 0.994 * value : value,
    ]),
  ) as typeof vessel;
  return { ...bath, vessel: smaller };
}

/** Lines of the current as thin bars, each with an arrow along the current: from the anode to the part. */
export function lineGeometry({ points, starts }: StreamLines, radius: number): BufferGeometry {
  const bars = [...starts.subarray(0, -1)].map((start, line): Bar => {
    const end = starts[line + 1] ?? start;
    const kept: number[] = [];
    // Every other point is enough for the eye, and the last.
    for (let at = start; at < end; at += at + 2 < end || at === end - 1 ? 2 : 1) {
      kept.push(...points.subarray(3 * at, 3 * at + 3));
    }
    return { points: kept, arrow: true };
  });
  return fromTubes(tubesAlong(bars, radius));
}
