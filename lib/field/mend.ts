import { edgesOf, surplusOf } from "./edges";
import { faultsOf, isDegenerate, type MeshFaults } from "./faults";
import { closeHoles } from "./holes";
import { boxOf, measure, type Mesh } from "./mesh";
import { orderOf, upTo } from "./number-order";
import { agree, turnShells } from "./shells";
import { weld } from "./weld";

export type Mended =
  | {
      readonly ok: true;
      /** The skin of a solid: as many triangles run along each edge one way as the other, normals outwards. */
      readonly mesh: Mesh;
      /** What was wrong with it, corners welded. */
      readonly found: MeshFaults;
      /** What was done about it, in words; empty where nothing was. */
      readonly mended: readonly string[];
    }
  | { readonly ok: false; readonly why: string; readonly found: MeshFaults };

/** Corners this near are one, as a share of the box's diagonal; files keep six or seven digits. */
const SAME_CORNER = 1e-6;
/** Corners along open edges may be this far apart and still meant as one. */
const CRACK = 1e-4;
/** A wider hole, as a share of the box's diagonal, may be a piece of the part that is missing. */
const WIDEST_HOLE = 0.1;
const MOST_SHELLS = 500;
/** Least volume, as a share of the cube over the box's diagonal: less is a sheet without thickness. */
const LEAST_VOLUME = 1e-9;

/**
 * Makes a mesh watertight where that can be done plainly, and says what it did; else says why not.
 *
 * Welds corners, drops triangles that are nothing or twice there, turns triangles and shells that face the wrong
 * way, closes small holes. Solids that touch along an edge, or overlap, are left as they are.
 *
 * @param mesh at least one triangle, finite, m; each may have corners of its own
 * @example mend(boxWithoutOneTriangle) // { ok: true, mended: ["closed 1 hole, up to 3 mm wide"], … }
 */
export function mend(mesh: Mesh): Mended {
  const diagonal = diagonalOf(mesh);
  const welded = weld(mesh, Math.max(diagonal * SAME_CORNER, farthest(mesh) * 2 ** -21)).mesh;
  const found = faultsOf(welded);
  const refuse = (why: string): Mended => ({ ok: false, why, found });
  if (found.shells > MOST_SHELLS) {
    return refuse(`it falls into ${found.shells} separate pieces; at most ${MOST_SHELLS} can be`);
  }
  const mended: string[] = [];
  const say = (count: number, one: string, many: string): void => {
    if (count > 0) mended.push(count === 1 ? one : many.replace("#", String(count)));
  };
  const crack = found.openEdges > 0 ? weldCracks(welded, diagonal * CRACK) : null;
  say(crack?.welded ?? 0, "welded a corner at a crack", "welded # corners at cracks");
  const real = onlyReal(crack?.mesh ?? welded);
  say(real.dropped, "dropped a triangle without area", "dropped # triangles without area");
  say(real.doubled, "dropped a triangle that lay on another", "dropped # that lay on others");
  const agreed = agree(real.mesh);
  if (!agreed) return refuse("its surface is one-sided: inside and outside cannot be told apart");
  say(agreed.turned, "turned a triangle round", "turned # triangles round");
  const closed = closeHoles(agreed.mesh);
  if (closed.widestM > WIDEST_HOLE * diagonal) {
    return refuse(
      `a hole ${millimetres(closed.widestM)} wide is too large to close: a part must be a solid, walls with their thickness`,
    );
  }
  const upTo = `up to ${millimetres(closed.widestM)} wide`;
  say(closed.holes, `closed a hole ${upTo}`, `closed # holes ${upTo}`);
  const solid = turnShells(onlyReal(closed.mesh).mesh);
  say(solid.turned, "turned a shell that was inside out", "turned # shells that were inside out");
  const kept = touchingEdges(solid.mesh);
  say(kept, "left an edge at which solids touch", "left # edges at which solids touch");
  if (!(enclosed(solid.mesh) > LEAST_VOLUME * diagonal ** 3)) {
    return refuse("it encloses no volume: a part must be a solid, walls with their thickness");
  }
  return { ok: true, mesh: solid.mesh, found, mended };
}

const millimetres = (metres: number): string => `${Number((metres * 1000).toPrecision(2))} mm`;

/** 0 where nothing is left. */
const enclosed = (mesh: Mesh): number => (mesh.indices.length > 0 ? measure(mesh).volumeM3 : 0);

function diagonalOf(mesh: Mesh): number {
  const { least, most } = boxOf(mesh);
  return Math.hypot(most[0] - least[0], most[1] - least[1], most[2] - least[2]);
}

function farthest(mesh: Mesh): number {
  const { least, most } = boxOf(mesh);
  return Math.max(...[...least, ...most].map(Math.abs));
}

function weldCracks(mesh: Mesh, reach: number): { readonly mesh: Mesh; readonly welded: number } {
  const edges = edgesOf(mesh);
  const atCrack = new Uint8Array(mesh.positions.length / 3);
  for (let edge = 0; edge < edges.count; edge++) {
    if (edges.starts[edge + 1]! - edges.starts[edge]! !== 1) continue;
    const half = edges.order[edges.starts[edge]!]!;
    atCrack[mesh.indices[half]!] = 1;
    atCrack[mesh.indices[half - (half % 3) + ((half + 1) % 3)]!] = 1;
  }
  return weld(mesh, reach, atCrack);
}

type Real = { readonly mesh: Mesh; readonly dropped: number; readonly doubled: number };

/**
 * Without the triangles that have two corners in one place, and without doubles: of those on the same corners that
 * face the same way one stays, and two back to back go, for between them is nothing.
 */
function onlyReal({ positions, indices }: Mesh): Real {
  const whole = upTo(indices.length / 3).filter((triangle) => !isDegenerate(indices, 3 * triangle));
  const columns = ranked(indices);
  const order = columns.reduce<Uint32Array>((sorted, keys) => orderOf(keys, sorted), whole);
  const [a, b, c] = columns;
  const kept = new Uint32Array(indices.length);
  let count = 0;
  for (let at = 0; at < order.length;) {
    const first = order[at]!;
    // Rising ones less falling ones; one of the more frequent kind stays.
    let surplus = 0;
    const latest = [first, first];
    for (; at < order.length; at++) {
      const next = order[at]!;
      if (a[next] !== a[first] || b[next] !== b[first] || c[next] !== c[first]) break;
      const rising = isRising(indices, next);
      surplus += rising ? 1 : -1;
      latest[rising ? 1 : 0] = next;
    }
    if (surplus !== 0) kept[count++] = latest[surplus > 0 ? 1 : 0]!;
  }
  return {
    mesh: { positions, indices: cornersOfThese(indices, kept.slice(0, count).sort()) },
    dropped: indices.length / 3 - whole.length,
    doubled: whole.length - count,
  };
}

function cornersOfThese(indices: Uint32Array, triangles: Uint32Array): Uint32Array {
  const corners = new Uint32Array(3 * triangles.length);
  for (let at = 0; at < corners.length; at++) {
    corners[at] = indices[3 * triangles[Math.floor(at / 3)]! + (at % 3)]!;
  }
  return corners;
}

/** Which way round a triangle names its corners: rising but for one step, or falling. */
function isRising(indices: Uint32Array, triangle: number): boolean {
  const [a, b, c] = cornerNumbers(indices, triangle);
  return Number(a < b) + Number(b < c) + Number(c < a) === 2;
}

const cornerNumbers = (indices: Uint32Array, triangle: number): [number, number, number] => [
  indices[3 * triangle]!,
  indices[3 * triangle + 1]!,
  indices[3 * triangle + 2]!,
];

/** The corners of every triangle by rank: all lowest, all middle, all highest. */
function ranked(indices: Uint32Array): readonly [Uint32Array, Uint32Array, Uint32Array] {
  const columns = [0, 1, 2].map(() => new Uint32Array(indices.length / 3));
  const [lowest, middle, highest] = columns as [Uint32Array, Uint32Array, Uint32Array];
  for (let triangle = 0; triangle < lowest.length; triangle++) {
    const [a, b, c] = cornerNumbers(indices, triangle);
    lowest[triangle] = Math.min(a, b, c);
    highest[triangle] = Math.max(a, b, c);
    middle[triangle] = a + b + c - lowest[triangle]! - highest[triangle]!;
  }
  return [lowest, middle, highest];
}

function touchingEdges(mesh: Mesh): number {
  const edges = edgesOf(mesh);
  let touching = 0;
  for (let edge = 0; edge < edges.count; edge++) {
    const uses = edges.starts[edge + 1]! - edges.starts[edge]!;
    if (uses > 2 && surplusOf(edges, edge) === 0) touching++;
  }
  return touching;
}
