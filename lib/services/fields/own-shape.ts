import { type Actor, requirePermission } from "@/lib/access";
import {
  deleteMesh,
  findMeshBytes,
  findPart,
  inTransaction,
  lockPart,
  type PartRow,
  reading,
  replaceMesh,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { STL_LIMITS, STL_UNITS, type StlUnit } from "@/lib/field";
import { auditPart, requireChangeable, requirePart, saidOf, writeAnew } from "../intake/parts";
import { drawnMeasures } from "./from-drawing";
import { unpackMesh } from "./mesh-bytes";
import type { ShapeRead } from "./read-shape";
import { inThread, Stopped } from "../threads/thread";

/** Longest that reading a file may take, ms. */
const MOST_READ_MS = 30_000;
/** Files read at once by one server, and files that may wait for it: each holds its bytes in memory. */
const READ_AT_ONCE = 2;
const MOST_WAITING = 6;
const LONGEST_NAME = 200;

export type ShapeFile = Pick<Blob, "size" | "arrayBuffer"> & { readonly name: string };
export type OwnShape = { readonly partId: string; readonly file: ShapeFile; readonly unit: string };

/**
 * Keeps a part's own shape, from an STL file, in place of the one before it. The file is read in a thread: the server
 * goes on answering, whatever it holds.
 *
 * @returns what was read, for the person to look at
 * @throws Refusal not-allowed | not-found | conflict | invalid with the reason beside the field
 */
export async function addOwnShape(
  actor: Actor,
  { partId, file, unit }: OwnShape,
  now: Date,
): Promise<{ readonly triangles: number; readonly mended: readonly string[] }> {
  requirePermission(actor, "take-in");
  const drawnIn = STL_UNITS.find((known) => known === unit);
  if (!drawnIn) {
    throw refused("unit", `Expected one of ${STL_UNITS.join(", ")}, got “${unit.slice(0, 20)}”.`);
  }
  // By what the upload says of itself, before its bytes are copied.
  if (file.size === 0) throw refused("file", "Choose an STL file.");
  if (file.size > STL_LIMITS.bytes) {
    const mb = (bytes: number): string => (bytes / 1024 / 1024).toFixed(1);
    const most = mb(STL_LIMITS.bytes);
    throw refused("file", `The file has ${mb(file.size)} MB; at most ${most} MB can be read.`);
  }
  await reading(async (db) => requireHere(await requirePart(findPart(db, partId))));
  const read = await readInTurn(file, drawnIn);
  if (!read.ok) throw refused("file", read.why);
  const { ok: _, ...shape } = read;
  await inTransaction(async (db) => {
    // The part's row lock lines up those who bring a shape at the same moment: the last one stays.
    requireHere(await requirePart(lockPart(db, partId)));
    await replaceMesh(db, {
      ...shape,
      mended: [...shape.mended],
      partId,
      unit: drawnIn,
      fileName: plainName(file.name),
      addedAt: now,
      addedById: actor.personId,
    });
    await auditPart(db, actor, now, "shape.added", partId);
  });
  return { triangles: shape.triangles, mended: shape.mended };
}

/** @throws Refusal not-allowed | not-found */
export async function removeOwnShape(actor: Actor, partId: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    requireHere(await requirePart(lockPart(db, partId)));
    if (!(await deleteMesh(db, partId))) {
      throw new Refusal("not-found", "This shape is gone already.");
    }
    await auditPart(db, actor, now, "shape.removed", partId);
  });
}

/**
 * Takes the drawing's length, width, height and area for the part's own, and its mass where nobody weighed the part.
 * Undone by changing the part. As after every change it is judged anew, and its plan no longer counts.
 *
 * @throws Refusal not-allowed | not-found | conflict | invalid
 */
export async function takeOverMeasures(actor: Actor, partId: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    const part = await requireChangeable(db, partId);
    if (!part.mesh) throw new Refusal("not-found", "The part has no shape of its own any more.");
    const { massG, ...drawn } = drawnMeasures(part.mesh, part.material);
    const { areaM2, ...box } = drawn;
    const taken = { ...box, areaOverrideM2: areaM2, massG: part.massG ?? massG };
    await writeAnew(db, actor, partId, { ...saidOf(part), ...taken }, now);
    await auditPart(db, actor, now, "shape.measures-taken", partId);
  });
}

/**
 * The triangles for a browser: how many corners and triangles as Uint32, then x, y, z of each corner as Float32 in m,
 * then the corners of each triangle as Uint32; all little-endian.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function ownShape(
  actor: Actor,
  partId: string,
): Promise<{ readonly bytes: Uint8Array; readonly hash: string }> {
  requirePermission(actor, "see-shop");
  const stored = await reading((db) => findMeshBytes(db, partId));
  if (!stored) throw new Refusal("not-found", "This part has no shape of its own.");
  const { positions, indices } = unpackMesh(stored);
  const head = Uint32Array.of(positions.length / 3, indices.length / 3);
  const bytes = Buffer.concat(
    [head, Float32Array.from(positions), indices].map(({ buffer, byteOffset, byteLength }) =>
      Buffer.from(buffer, byteOffset, byteLength),
    ),
  );
  return { bytes: new Uint8Array(bytes), hash: stored.hash };
}

/** A part that is gone keeps the shape it had. */
function requireHere({ job, state }: PartRow): void {
  if (job.state !== "OPEN") throw new Refusal("conflict", "The job is no longer open.");
  if (state === "HANDED_BACK") throw new Refusal("conflict", "The part was handed back.");
}

/** Control characters are no part of a name that anybody reads. */
function plainName(name: string): string {
  const plain = name.replace(/[\p{Cc}\p{Cf}]/gu, "").trim();
  return plain.slice(0, LONGEST_NAME) || "shape.stl";
}

let busy = 0;
const waiting: (() => void)[] = [];

/** One of a few at a time. @throws Refusal too-many-tries where too many wait already | invalid */
async function readInTurn(file: ShapeFile, unit: StlUnit): Promise<ShapeRead> {
  if (busy >= READ_AT_ONCE) {
    if (waiting.length >= MOST_WAITING) {
      throw new Refusal("too-many-tries", "Other shapes are being read. Try again in a minute.");
    }
    // Whoever is done hands the place on.
    await new Promise<void>((resolve) => waiting.push(resolve));
  } else busy += 1;
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    return await inThread("shape", { bytes, unit }, { mostMs: MOST_READ_MS });
  } catch (error) {
    const why = troubleOf(error);
    if (why === null) throw error;
    throw refused("file", why);
  } finally {
    const next = waiting.shift();
    if (next) next();
    else busy -= 1;
  }
}

/** What a file did to its thread that no sound one does; null where the fault is ours. */
function troubleOf(error: unknown): string | null {
  if (error instanceof Stopped) return `Reading it ${error.message}. Simplify the drawing.`;
  const code = error instanceof Error && "code" in error ? error.code : null;
  if (code === "ERR_WORKER_OUT_OF_MEMORY") return "It takes too much memory. Simplify the drawing.";
  return null;
}

const refused = (field: string, why: string): Refusal =>
  new Refusal("invalid", "The shape is not kept.", { [field]: why });
