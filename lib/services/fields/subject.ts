import { type Db, findMeshBytes, findPart } from "@/lib/data";
import type { FieldSubject } from "@/lib/treatment";
import { plannedStart } from "../intake/planned-start";
import { unpackMesh } from "./mesh-bytes";
import { sceneKey } from "./scene-key";

export type SubjectNow = {
  readonly subject: FieldSubject;
  /** Of the scene as it stands in this moment. */
  readonly key: string;
};

/**
 * A planned part in its tank as both stand now, with its own shape where it has one.
 *
 * @returns in words why there is none
 * @throws Refusal invalid, naming a measure that is out of range
 */
export async function subjectNow(db: Db, partId: string): Promise<SubjectNow | string> {
  const part = await findPart(db, partId);
  if (!part?.plan) return "The part has no plan.";
  const planned = await plannedStart(db, part);
  if (planned === null) return "Its tank is out of use: plan the part anew.";
  if (typeof planned === "string") return `The tank no longer takes the part: ${planned}`;
  const stored = part.mesh && (await findMeshBytes(db, partId));
  const { start, tank } = planned;
  return {
    subject: {
      part: start.part,
      chosen: start.chosen,
      ...(stored && { mesh: unpackMesh(stored) }),
    },
    key: sceneKey({ part, meshHash: stored?.hash ?? null, tank, lie: part.plan.result.lie }),
  };
}
