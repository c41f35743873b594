import { cornersOf, type Mesh, minus, type Point } from "./mesh";

export type Corners = readonly [Point, Point, Point];

/**
 * A mesh's triangles, halved along their longest edges until none is longer than wanted. The pieces have the area
 * of the whole, and its normals.
 *
 * @param longest m, > 0
 */
export function* smallTriangles(mesh: Mesh, longest: number): Generator<Corners> {
  for (let triangle = 0; triangle < mesh.indices.length / 3; triangle++) {
    const waiting: Corners[] = [cornersOf(mesh, triangle)];
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      const [a, b, c] = next;
      const edges = [minus(b, a), minus(c, b), minus(a, c)].map((edge) => Math.hypot(...edge));
      const most = Math.max(...edges);
      if (most <= longest) {
        yield next;
        continue;
      }
      const [p, q, r]: Corners =
        most === edges[0] ? [a, b, c] : most === edges[1] ? [b, c, a] : [c, a, b];
      const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
      waiting.push([p, middle, r], [middle, q, r]);
    }
  }
}

export const middleOfCorners = ([a, b, c]: Corners): Point => [
  (a[0] + b[0] + c[0]) / 3,
  (a[1] + b[1] + c[1]) / 3,
  (a[2] + b[2] + c[2]) / 3,
];
