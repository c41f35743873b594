import { createHash } from "node:crypto";
import type { ScenePart, TankRow } from "@/lib/data";
import { tankShape } from "../tanks/shape";

/** Counted up when the field itself is worked out in another way: everything planned is then asked for anew. */
const MODEL = 1;

export type SceneSource = {
  readonly part: ScenePart;
  /** Of the part's own shape; null where it has none. */
  readonly meshHash: string | null;
  readonly tank: Pick<
    TankRow,
    | "kind"
    | "topLengthMm"
    | "topWidthMm"
    | "bottomLengthMm"
    | "bottomWidthMm"
    | "depthMm"
    | "marks"
    | "workingLevelMm"
    | "clearanceMm"
  > & { readonly id: string; readonly anodes: readonly { readonly wettedAreaM2: number }[] };
  /** How the plan lays the part. */
  readonly lie: unknown;
};

/**
 * One text for all that a field's geometry rests on: tank, level, clearance, anode, the part or its own shape, how it
 * lies, and what is to come off it. Supply and bath are left out: they scale the current and hardly move where it goes.
 *
 * @example sceneKey(before) === sceneKey(after) // the findings still hold
 */
export function sceneKey({ part, meshHash, tank, lie }: SceneSource): string {
  // The whole shape in place of measures that then say nothing more.
  const form = meshHash ?? [part.shape, part.lengthMm, part.widthMm, part.heightMm, part.wallMm];
  const scene = {
    model: MODEL,
    tank: [tank.id, tankShape(tank), tank.workingLevelMm, tank.clearanceMm],
    anodeM2: tank.anodes.reduce((sum, { wettedAreaM2 }) => sum + wettedAreaM2, 0),
    part: [form, part.quantity, part.material, part.rustGrade, [...part.coatings].sort()],
    goal: part.goal,
    lie,
  };
  return createHash("sha256").update(canonical(scene)).digest("hex");
}

/** JSON with the names of every object in order: what comes back from the database has them in another one. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === "object" && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}
