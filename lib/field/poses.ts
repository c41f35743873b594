import {
  boxOf,
  type Mesh,
  moved,
  NO_TURN,
  type Point,
  type Pose,
  turnAbout,
  turnsTogether,
} from "./mesh";

/** How a part may be laid: which of its own axes points along the tank, which across it, which up. */
export type Turn = "xyz" | "xzy" | "yxz" | "yzx" | "zxy" | "zyx";

const QUARTER = Math.PI / 2;

/** Quarter turns that bring the axes named along, across and up; none mirrors. */
const TURNS: Readonly<Record<Turn, readonly number[]>> = {
  xyz: NO_TURN,
  yxz: turnAbout("z", QUARTER),
  xzy: turnAbout("x", QUARTER),
  zyx: turnAbout("y", QUARTER),
  zxy: turnsTogether(turnAbout("z", QUARTER), turnAbout("x", QUARTER)),
  yzx: turnsTogether(turnAbout("z", QUARTER), turnAbout("y", QUARTER)),
};

/** Where the middle of the box round a part comes, seen from above, and its lowest point; m from the tank's floor. */
export type Place = { readonly x: number; readonly y: number; readonly lowestZ: number };

/**
 * The pose of a turned mesh in its place.
 *
 * @param rotation rows of an orthonormal matrix
 * @throws RangeError if the mesh has no vertex
 */
export function poseAt(mesh: Mesh, rotation: readonly number[], { x, y, lowestZ }: Place): Pose {
  const { least, most } = boxOf(moved(mesh, { rotation, translation: [0, 0, 0] }));
  const translation: Point = [
    x - (least[0] + most[0]) / 2,
    y - (least[1] + most[1]) / 2,
    lowestZ - least[2],
  ];
  return { rotation, translation };
}

/**
 * The pose of a part that lies whole, or with one end up.
 *
 * @param turn        which of the mesh's axes go along, across and up
 * @param tiltDegrees by which its end towards +x is raised, in the upright plane along the tank
 * @throws RangeError if the mesh has no vertex
 * @example restingPose(mesh, "xyz", 20, { x: 0, y: 0, lowestZ: 0.05 })
 */
export function restingPose(mesh: Mesh, turn: Turn, tiltDegrees: number, place: Place): Pose {
  const tilt = turnAbout("y", (-tiltDegrees * Math.PI) / 180);
  return poseAt(mesh, turnsTogether(tilt, TURNS[turn]), place);
}
