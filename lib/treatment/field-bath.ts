import {
  type AnodeForm,
  type Bathful,
  behindLayer,
  boxOf,
  catalogueMesh,
  type Mesh,
  moved,
  type Point,
  type PolarisedDrive,
  tafel,
  turnAbout,
  turnsTogether,
  type Vessel,
} from "@/lib/field";
import { anodeBetween, CATHODE, layerAsBath, USUAL_LAYER_M } from "@/lib/electrolysis";
import type { Lie, TankShape } from "@/lib/tanks";
import type { Candidate } from "./candidate";
import type { PartDescription } from "./part";

/** A planned part in its tank. */
export type FieldSubject = {
  readonly part: PartDescription;
  readonly chosen: Candidate;
  /** The part's own mesh, m, as it was measured or drawn; the catalogue's shape stands for it when left out. */
  readonly mesh?: Mesh | undefined;
};

/** Strips that stand for an anode all round the wall: one in the middle of each side. */
const WALL_STRIPS = 4;
/** Mild steel rod that is hung inside a part, m: 12 mm, usual bar stock. */
export const ROD_RADIUS_M = 0.006;

/**
 * The bath of a planned part as the field takes it: the part in the middle of the tank the way it lies in the plan, the
 * anode as strips at the wall.
 *
 * @param place of the part's middle from the tank's, mm; in the middle when left out
 * @param inner anodes to hang with it
 * @throws RangeError naming a measure that is out of range
 */
export function fieldBath(
  subject: FieldSubject,
  place: { readonly alongMm: number; readonly acrossMm: number } = { alongMm: 0, acrossMm: 0 },
  inner: AnodeForm | readonly AnodeForm[] = [],
): Bathful {
  const { part, chosen } = subject;
  const { tank, fit, levelMm } = chosen;
  const { mesh, rotation } = lying(subject.mesh ?? catalogueMesh(part.shape, part), fit.lie);
  const levelM = levelMm / 1000;
  const turned = boxOf(moved(mesh, { rotation, translation: [0, 0, 0] }));
  const spare = levelM - (turned.most[2] - turned.least[2]);
  // Whole under the bath it hangs half-way; end for end its lower end is kept clear of the floor.
  const lowest = spare > 0 ? spare / 2 : tank.clearanceMm / 1000;
  const translation: Point = [
    place.alongMm / 1000 - (turned.least[0] + turned.most[0]) / 2,
    place.acrossMm / 1000 - (turned.least[1] + turned.most[1]) / 2,
    lowest - turned.least[2],
  ];
  return {
    vessel: vesselOf(tank.shape),
    levelM,
    anodes: [
      {
        id: "wall",
        name: "anode at the wall",
        form: { kind: "STRIPS", count: WALL_STRIPS, areaM2: tank.anode.areaM2 },
      },
      ...[inner].flat().map((form, index) => ({
        id: `inner-${index + 1}`,
        name: "inner anode",
        form,
      })),
    ],
    parts: [{ id: "part", name: "the part", mesh, pose: { rotation, translation } }],
  };
}

/**
 * What drives the field of a plan: its current, its bath, and what part and anode hold against the current: their
 * overvoltages, and the layers of rust and scale that the plan's shape length has too.
 */
export function fieldDrive({ chosen }: FieldSubject): PolarisedDrive {
  const { conductivitySPerM } = chosen.bath;
  const anode = anodeBetween(chosen.tank.anode.lossFactor);
  const layerOhmM2 = layerAsBath(USUAL_LAYER_M) / conductivitySPerM;
  return {
    conductivitySPerM,
    currentA: chosen.band.mid.currentA,
    part: behindLayer(tafel(CATHODE.tafelSlopeV, CATHODE.exchangeCurrentDensity), layerOhmM2),
    anode: behindLayer(tafel(anode.tafelSlopeV, anode.exchangeCurrentDensity), layerOhmM2),
  };
}

function vesselOf(shape: TankShape): Vessel {
  const depthM = shape.depthMm / 1000;
  switch (shape.kind) {
    case "TAPERED_BOX":
      return {
        kind: "BOX",
        topLengthM: shape.topLengthMm / 1000,
        topWidthM: shape.topWidthMm / 1000,
        bottomLengthM: shape.bottomLengthMm / 1000,
        bottomWidthM: shape.bottomWidthMm / 1000,
        depthM,
      };
    case "ROUND":
      return {
        kind: "ROUND",
        topDiameterM: shape.topDiameterMm / 1000,
        bottomDiameterM: shape.bottomDiameterMm / 1000,
        depthM,
      };
    case "MEASURED": {
      // Only its free space is known: a box of that.
      const [length, width] = [shape.lengthMm / 1000, shape.widthMm / 1000];
      return {
        kind: "BOX",
        ...{ topLengthM: length, topWidthM: width },
        ...{ bottomLengthM: length, bottomWidthM: width },
        depthM,
      };
    }
  }
}

/** The part's mesh and the turn that lays it as the plan has it. */
function lying(
  mesh: Mesh,
  lie: Lie,
): { readonly mesh: Mesh; readonly rotation: readonly number[] } {
  const { least, most } = boxOf(mesh);
  const edges = [0, 1, 2].map((axis) => 1000 * ((most[axis] ?? 0) - (least[axis] ?? 0)));
  const flat = turnThatFits(edges, [lie.along, lie.across, lie.up]);
  const rotation =
    lie.kind === "TILTED"
      ? turnsTogether(turnAbout("y", (-lie.tiltDegrees * Math.PI) / 180), flat)
      : flat;
  return { mesh, rotation };
}

/** Which edge goes along, across and up: of the six turns the one whose edges come nearest. */
function turnThatFits(edges: readonly number[], wanted: readonly number[]): readonly number[] {
  const quarter = Math.PI / 2;
  const turns = [
    turnAbout("x", 0),
    turnAbout("z", quarter),
    turnAbout("x", quarter),
    turnAbout("y", quarter),
    turnsTogether(turnAbout("z", quarter), turnAbout("x", quarter)),
    turnsTogether(turnAbout("z", quarter), turnAbout("y", quarter)),
  ];
  const off = (turn: readonly number[]): number =>
    wanted.reduce((sum, want, row) => {
      const edge = edges.reduce(
        (all, one, axis) => all + Math.abs(turn[3 * row + axis] ?? 0) * one,
        0,
      );
      return sum + Math.abs(edge - want);
    }, 0);
  return turns.reduce((best, turn) => (off(turn) < off(best) - 1e-6 ? turn : best));
}

/**
 * A rod for the hollow of a part: upright in the middle of it, from the clearance above its floor to the level.
 *
 * @returns null where the part has no hollow to hang it in from above, or it would come nearer than the clearance
 */
export function innerRod(subject: FieldSubject, clearanceMm: number): AnodeForm | null {
  const { part, chosen } = subject;
  const { lie } = chosen.fit;
  const standing = Math.abs(lie.up - part.heightMm) < 1;
  const upright = part.shape === "BOX" || part.shape === "PAN" ? standing : false;
  const hollowMm = Math.min(lie.along, lie.across) / 2 - (part.wallMm ?? 0) - 1000 * ROD_RADIUS_M;
  if (lie.kind !== "WHOLE" || !upright || hollowMm < clearanceMm) return null;
  const levelM = chosen.levelMm / 1000;
  const floor = (levelM - lie.up / 1000) / 2 + (part.wallMm ?? 0) / 1000;
  const foot = floor + clearanceMm / 1000;
  return {
    kind: "ROD",
    from: [0, 0, foot],
    to: [0, 0, levelM - 1e-4],
    radiusM: ROD_RADIUS_M,
  };
}
