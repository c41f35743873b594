import { checkPositive } from "@/lib/units";
import { blockMesh, type Mesh, moved, NO_TURN, together, turnAbout, turnedMesh } from "./mesh";

/** Shapes that a part may be taken in as. */
export type CatalogueShape = "PLATE" | "SOLID" | "BAR_GRID" | "BOX" | "TUBE" | "PAN" | "RING";

export type CatalogueMeasures = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Wall, bar or rim; a tenth of the smallest measure when null. */
  readonly wallMm: number | null;
};

/** Sides of the polygon that stands for a circle: its area is within 0.3 % of the circle's. */
const ROUND_PIECES = 48;
const USUAL_WALL_SHARE = 0.1;

/**
 * A closed mesh of a catalogue shape, standing on z = 0 with the middle of its floor at the origin: length along
 * x, width along y, height up. A box and a pan are open at the top; a tube lies along x.
 *
 * A casting is taken as an ellipsoid: it fills π/6 of the box round it, about the half that castings do.
 *
 * @throws RangeError unless every measure is above 0
 * @example catalogueMesh("BOX", { lengthMm: 420, widthMm: 200, heightMm: 180, wallMm: 1.2 })
 */
export function catalogueMesh(shape: CatalogueShape, measures: CatalogueMeasures): Mesh {
  const { lengthMm, widthMm, heightMm, wallMm } = measures;
  checkPositive("length", lengthMm, "mm");
  checkPositive("width", widthMm, "mm");
  checkPositive("height", heightMm, "mm");
  if (wallMm !== null) checkPositive("wall", wallMm, "mm");
  const smallest = Math.min(lengthMm, widthMm, heightMm);
  const wall = Math.min(wallMm ?? smallest * USUAL_WALL_SHARE, 0.49 * smallest);
  return MESHES[shape](lengthMm / 1000, widthMm / 1000, heightMm / 1000, wall / 1000);
}

type MeshOf = (l: number, w: number, h: number, t: number) => Mesh;

const MESHES: Readonly<Record<CatalogueShape, MeshOf>> = {
  PLATE: (l, w, h) => blockMesh([-l / 2, -w / 2, 0], [l / 2, w / 2, h]),
  SOLID: (l, w, h) => ellipsoid(l, w, h),
  BAR_GRID: (l, w, h, t) => barGrid(l, w, h, t),
  BOX: (l, w, h, t) => openBox(l, w, h, t),
  TUBE: (l, w, _h, t) => {
    const r = w / 2;
    const upright = turnedMesh(
      [
        [r - t, 0],
        [r, 0],
        [r, l],
        [r - t, l],
      ],
      ROUND_PIECES,
    );
    // Laid along x, its lowest line on z = 0.
    return moved(upright, { rotation: turnAbout("y", Math.PI / 2), translation: [-l / 2, 0, r] });
  },
  PAN: (l, _w, h, t) =>
    turnedMesh(
      [
        [0, 0],
        [l / 2, 0],
        [l / 2, h],
        [l / 2 - t, h],
        [l / 2 - t, t],
        [0, t],
      ],
      ROUND_PIECES,
    ),
  RING: (l, _w, h, t) =>
    turnedMesh(
      [
        [l / 2 - t, 0],
        [l / 2, 0],
        [l / 2, h],
        [l / 2 - t, h],
      ],
      ROUND_PIECES,
    ),
};

function ellipsoid(l: number, w: number, h: number): Mesh {
  const halves = ROUND_PIECES / 2;
  const outline = Array.from({ length: halves + 1 }, (_, step) => {
    const angle = (Math.PI * step) / halves - Math.PI / 2;
    const tip = step === 0 || step === halves;
    return [tip ? 0 : Math.cos(angle), Math.sin(angle)] as const;
  });
  const { positions, indices } = turnedMesh(outline, ROUND_PIECES);
  const scale = [l / 2, w / 2, h / 2];
  return {
    positions: positions.map((value, at) => value * scale[at % 3]! + (at % 3 === 2 ? h / 2 : 0)),
    indices,
  };
}

/** Square bars t thick along and across, about six bar widths apart, the crossing ones on top of each other. */
function barGrid(l: number, w: number, h: number, t: number): Mesh {
  const along = Math.max(2, Math.round(w / (6 * t)));
  const across = Math.max(2, Math.round(l / (6 * t)));
  const thick = Math.min(t, h);
  const place = (count: number, index: number, width: number): number =>
    -width / 2 + ((width - t) * index) / (count - 1);
  return together([
    ...Array.from({ length: along }, (_, index) => {
      const y = place(along, index, w);
      return blockMesh([-l / 2, y, 0], [l / 2, y + t, thick]);
    }),
    ...Array.from({ length: across }, (_, index) => {
      const x = place(across, index, l);
      // A hair higher, so that no two faces lie in one plane.
      return moved(blockMesh([x, -w / 2, 0], [x + t, w / 2, thick]), {
        rotation: NO_TURN,
        translation: [0, 0, Math.max(0, h - thick) + thick * 1e-4],
      });
    }),
  ]);
}

function openBox(l: number, w: number, h: number, t: number): Mesh {
  const outer = blockMesh([-l / 2, -w / 2, 0], [l / 2, w / 2, h]);
  const inner = blockMesh([-l / 2 + t, -w / 2 + t, t], [l / 2 - t, w / 2 - t, h]);
  // The two lids are left out and a rim joins them; the hollow's sides face inwards.
  const withoutLid = (indices: Uint32Array): number[] =>
    [...indices].filter((_, place) => place < 6 || place >= 12);
  const walls = withoutLid(outer.indices);
  const hollow = withoutLid(inner.indices);
  const corners = [4, 5, 7, 6];
  const rim = corners.flatMap((corner, index) => {
    const next = corners[(index + 1) % 4]!;
    return [corner, next, next + 8, corner, next + 8, corner + 8];
  });
  const inward = hollow.map((_, place) => {
    const first = place - (place % 3);
    return hollow[first + 2 - (place % 3)]! + 8;
  });
  return {
    positions: Float64Array.from([...outer.positions, ...inner.positions]),
    indices: Uint32Array.from([...walls, ...inward, ...rim]),
  };
}
