/**
 * `npm run bench:field`: a tub with an anode all round its wall and a hollow open box in it, solved to a relative residual
 * of 1e-6 on one core. Printed, never asserted: the time depends on the machine.
 */
import { type Bathful, catalogueMesh, lookAt, NO_TURN, prepare, type Scene } from "../../lib/field";
import { sceneFrom } from "../support/field-scenes";

const EDGE_M = 0.005;

/** Anode and box are as thick as two cells in a hundred and twenty-eight. */
function tub(nx: number, ny: number, nz: number): Scene {
  const thick = (2 / 128) * nx;
  const [x, y, z] = [nx, ny, nz].map((cells) => cells * EDGE_M) as [number, number, number];
  return sceneFrom([x, y, z], [nx, ny, nz], (px, py, pz) => {
    const [i, j, k] = [px / EDGE_M, py / EDGE_M, pz / EDGE_M];
    if (i < thick || j < thick || i > nx - thick || j > ny - thick) return 0;
    const within = (lift: number, inset: number): boolean =>
      i > 0.3 * nx + inset &&
      i < 0.7 * nx - inset &&
      j > 0.3 * ny + inset &&
      j < 0.7 * ny - inset &&
      k > 0.25 * nz + lift;
    return k < 0.75 * nz && within(0, 0) && !within(thick / 2, thick / 2) ? 1 : "bath";
  });
}

const RUNS = 5;
for (const [nx, ny, nz] of [
  [64, 48, 32],
  [128, 96, 64],
  [240, 176, 120],
] as const) {
  const scene = tub(nx, ny, nz);
  const times = Array.from({ length: RUNS }, () => {
    const before = process.memoryUsage().arrayBuffers;
    const start = performance.now();
    const prepared = prepare(scene);
    const built = performance.now();
    const { iterations, residual } = prepared.solve({ conductivitySPerM: 1, potentialsV: [1, 0] });
    const solved = performance.now();
    const bytes = (process.memoryUsage().arrayBuffers - before) / scene.cells.length;
    return { build: built - start, solve: solved - built, iterations, residual, bytes };
  });
  const best = times.reduce((one, other) => (other.solve < one.solve ? other : one));
  console.log(
    `${scene.cells.length} cells: build ${best.build.toFixed(0)} ms, solve ${best.solve.toFixed(0)} ms, ` +
      `${best.iterations} iterations to ${best.residual.toExponential(1)}, ` +
      `${Math.max(...times.map(({ bytes }) => bytes)).toFixed(0)} bytes a cell`,
  );
}

/** A look as it is asked for while a part is dragged: cut into cells, solved and shared out over the part anew. */
const bath: Bathful = {
  vessel: {
    ...{ kind: "BOX", topLengthM: 0.8, topWidthM: 0.52, bottomLengthM: 0.72, bottomWidthM: 0.44 },
    depthM: 0.42,
  },
  levelM: 0.36,
  anodes: [
    { id: "wall", name: "anode at the wall", form: { kind: "STRIPS", count: 4, areaM2: 0.42 } },
  ],
  parts: [
    {
      ...{ id: "part", name: "the part" },
      mesh: catalogueMesh("BOX", { lengthMm: 420, widthMm: 200, heightMm: 180, wallMm: 1.2 }),
      pose: { rotation: NO_TURN, translation: [0, 0, 0.09] },
    },
  ],
};
for (const cells of [40_000, 100_000]) {
  const times = Array.from({ length: 3 * RUNS }, () => {
    const start = performance.now();
    lookAt(bath, { cells });
    return performance.now() - start;
  });
  times.sort((one, other) => one - other);
  console.log(
    `look at an open box on about ${cells} cells: ${times[0]?.toFixed(0)} ms at best, ` +
      `${times[Math.floor(times.length / 2)]?.toFixed(0)} ms in the middle`,
  );
}
