/** Parts' own shapes. */
import type { Db } from "./client";
import type { PartMesh, Prisma } from "./generated/client";

/** All that is known of a shape without its triangles. */
export const MESH_FACTS = {
  id: true,
  partId: true,
  hash: true,
  corners: true,
  triangles: true,
  fileName: true,
  unit: true,
  areaM2: true,
  volumeM3: true,
  lengthM: true,
  widthM: true,
  heightM: true,
  mended: true,
  addedAt: true,
  addedBy: { select: { name: true } },
} as const satisfies Prisma.PartMeshSelect;

export type MeshFacts = Prisma.PartMeshGetPayload<{ select: typeof MESH_FACTS }>;
/** Deflated; see the schema. */
export type MeshBytes = { readonly positions: Uint8Array; readonly indices: Uint8Array };
export type NewMesh = Omit<PartMesh, "id" | "positions" | "indices"> & MeshBytes;

export async function findMeshBytes(
  db: Db,
  partId: string,
): Promise<(MeshBytes & { readonly hash: string }) | null> {
  return db.partMesh.findUnique({
    where: { partId },
    select: { positions: true, indices: true, hash: true },
  });
}

/** Keeps a part's own shape in place of the one before it. */
export async function replaceMesh(db: Db, mesh: NewMesh): Promise<void> {
  await db.partMesh.deleteMany({ where: { partId: mesh.partId } });
  const { positions, indices, ...rest } = mesh;
  await db.partMesh.create({
    data: { ...rest, positions: new Uint8Array(positions), indices: new Uint8Array(indices) },
  });
}

/** @returns whether there was one */
export async function deleteMesh(db: Db, partId: string): Promise<boolean> {
  const { count } = await db.partMesh.deleteMany({ where: { partId } });
  return count === 1;
}
