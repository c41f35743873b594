import type { Db } from "./client";
import type { PhotoMoment } from "./generated/client";

export type { PhotoMoment };

export type NewPhoto = {
  readonly partId: string;
  readonly moment: PhotoMoment;
  readonly caption: string;
  readonly takenAt: Date;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly image: Uint8Array;
  readonly thumbnail: Uint8Array;
};

/** @returns its id */
export async function insertPhoto(db: Db, photo: NewPhoto): Promise<string> {
  const data = {
    ...photo,
    image: new Uint8Array(photo.image),
    thumbnail: new Uint8Array(photo.thumbnail),
  };
  const row = await db.photo.create({ data, select: { id: true } });
  return row.id;
}

/** The JPEG of a photo, whole or small; null where there is none. */
export async function photoBytes(
  db: Db,
  id: string,
  size: "full" | "thumb",
): Promise<Uint8Array | null> {
  if (size === "thumb") {
    const row = await db.photo.findUnique({ where: { id }, select: { thumbnail: true } });
    return row?.thumbnail ?? null;
  }
  const row = await db.photo.findUnique({ where: { id }, select: { image: true } });
  return row?.image ?? null;
}

/** @returns the part it belonged to, or null where there is none */
export async function deletePhoto(db: Db, id: string): Promise<string | null> {
  const row = await db.photo.findUnique({ where: { id }, select: { partId: true } });
  if (!row) return null;
  await db.photo.deleteMany({ where: { id } });
  return row.partId;
}

/** How many photos a part has. */
export async function countPhotos(db: Db, partId: string): Promise<number> {
  return db.photo.count({ where: { partId } });
}
