import sharp from "sharp";
import { type Actor, requirePermission } from "@/lib/access";
import {
  countPhotos,
  deletePhoto,
  findPart,
  inTransaction,
  insertPhoto,
  photoBytes,
  type PhotoMoment,
  reading,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { requirePart } from "./parts";

/** Largest file taken, bytes, and largest picture, pixels: a decompression bomb is refused before it is decoded. */
const MOST_BYTES = 10 * 1024 * 1024;
const MOST_PIXELS = 60_000_000;
const FULL_PX = 1600;
const THUMB_PX = 320;
const MOST_PHOTOS = 40;

// Only these three are ever decoded. The other readers (SVG, PDF, RAW and more) could be made to open other files or
// to calculate without end.
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({
  operation: ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer", "VipsForeignLoadWebpBuffer"],
});

export type PhotoUpload = {
  readonly partId: string;
  readonly moment: PhotoMoment;
  readonly caption: string;
  readonly bytes: Uint8Array;
};

/**
 * Keeps a photo of a part: turned upright, without the camera's notes (place, owner), re-encoded.
 *
 * @returns its id
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function addPhoto(actor: Actor, upload: PhotoUpload, now: Date): Promise<string> {
  requirePermission(actor, "take-in");
  const picture = await reencode(upload.bytes);
  return inTransaction(async (db) => {
    await requirePart(findPart(db, upload.partId));
    if ((await countPhotos(db, upload.partId)) >= MOST_PHOTOS) {
      throw new Refusal("invalid", `A part keeps ${MOST_PHOTOS} photos at most. Remove one first.`);
    }
    const { partId, moment, caption } = upload;
    const id = await insertPhoto(db, { partId, moment, caption, takenAt: now, ...picture });
    await recordAudit(db, {
      actor,
      at: now,
      action: "photo.added",
      subjectType: "part",
      subjectId: partId,
    });
    return id;
  });
}

async function reencode(bytes: Uint8Array) {
  if (bytes.byteLength === 0 || bytes.byteLength > MOST_BYTES) {
    throw new Refusal("invalid", "Choose a photo of at most 10 MB.", {
      photo: bytes.byteLength === 0 ? "Choose a file." : "Over 10 MB.",
    });
  }
  try {
    const upright = sharp(bytes, { limitInputPixels: MOST_PIXELS }).rotate();
    const fitting = { fit: "inside", withoutEnlargement: true } as const;
    const full = await upright
      .clone()
      .resize(FULL_PX, FULL_PX, fitting)
      .flatten({ background: "#ffffff" })
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true });
    const thumbnail = await sharp(full.data)
      .resize(THUMB_PX, THUMB_PX, fitting)
      .jpeg({ quality: 78 })
      .toBuffer();
    return { image: full.data, thumbnail, widthPx: full.info.width, heightPx: full.info.height };
  } catch {
    throw new Refusal("invalid", "That file is not a picture we can read.", {
      photo: "Expected a JPEG, PNG or WebP picture.",
    });
  }
}

/** The JPEG of a photo. @throws Refusal not-allowed | not-found */
export async function photoImage(
  actor: Actor,
  id: string,
  size: "full" | "thumb",
): Promise<Uint8Array> {
  requirePermission(actor, "see-shop");
  const bytes = await reading((db) => photoBytes(db, id, size));
  if (!bytes) throw new Refusal("not-found", "There is no such photo.");
  return bytes;
}

/** @throws Refusal not-allowed | not-found */
export async function removePhoto(actor: Actor, id: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    const partId = await deletePhoto(db, id);
    if (!partId) throw new Refusal("not-found", "This photo is gone already.");
    await recordAudit(db, {
      actor,
      at: now,
      action: "photo.removed",
      subjectType: "part",
      subjectId: partId,
    });
  });
}
