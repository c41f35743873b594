import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { addPhoto, partById, photoImage, removePhoto } from "@/lib/services";
import { createPart } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";

let desk: Actor;
let bench: Actor;
let partId: string;
let camera: Buffer;

beforeAll(async () => {
  await createShopWithRates();
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
  partId = await createPart(desk);
  // A phone held upright: the sensor lies on its side and says so (orientation 6), and tells who took it.
  camera = await sharp({ create: { width: 3000, height: 2000, channels: 3, background: "#a33" } })
    .withExif({ IFD0: { Artist: "somebody", Orientation: "6" } })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();
});

const upload = (bytes: Uint8Array) => ({ partId, moment: "BEFORE", caption: "", bytes }) as const;

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

describe("a photo", () => {
  it("is turned upright, shrunk and stripped of the camera's notes", async () => {
    expect((await sharp(camera).metadata()).orientation).toBe(6);
    const id = await addPhoto(bench, upload(camera), NOW);
    const kept = await sharp(await photoImage(desk, id, "full")).metadata();
    const small = await sharp(await photoImage(desk, id, "thumb")).metadata();
    expect(kept).toMatchObject({ format: "jpeg", width: 1067, height: 1600 });
    expect(kept.exif).toBeUndefined();
    expect(kept.orientation).toBeUndefined();
    expect(small).toMatchObject({ format: "jpeg", width: 213, height: 320 });
    expect((await partById(desk, partId)).photos).toMatchObject([{ id, widthPx: 1067 }]);
  });

  it("that is small stays as small as it is", async () => {
    const little = await sharp({
      create: { width: 200, height: 100, channels: 4, background: "#0000" },
    })
      .png()
      .toBuffer();
    const id = await addPhoto(bench, upload(little), NOW);
    const kept = await sharp(await photoImage(desk, id, "full")).metadata();
    expect(kept).toMatchObject({ format: "jpeg", width: 200, height: 100 });
  });

  it("is refused where it is not a picture, is empty, too large, or a drawing that could call for other files", async () => {
    const before = await database().photo.count();
    const drawing =
      '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>';
    const files = [
      bytesOf("not a picture"),
      bytesOf(drawing),
      camera.subarray(0, 200),
      new Uint8Array(0),
      new Uint8Array(11 * 1024 * 1024),
    ];
    for (const bytes of files) {
      await expect(addPhoto(bench, upload(bytes), NOW)).rejects.toMatchObject({
        code: "invalid",
        fields: { photo: expect.any(String) },
      });
    }
    expect(await database().photo.count()).toBe(before);
  });

  it("is refused where it would unfold to more pixels than a camera takes", async () => {
    const wide = await sharp({
      create: { width: 16_000, height: 8_000, channels: 3, background: "#000" },
    })
      .png({ compressionLevel: 9 })
      .toBuffer();
    expect(wide.byteLength).toBeLessThan(10 * 1024 * 1024);
    await expect(addPhoto(bench, upload(wide), NOW)).rejects.toMatchObject({ code: "invalid" });
  });

  it("is removed once, with who did it", async () => {
    const id = await addPhoto(bench, upload(camera), NOW);
    await removePhoto(bench, id, NOW);
    await expect(photoImage(desk, id, "full")).rejects.toMatchObject({ code: "not-found" });
    await expect(removePhoto(bench, id, NOW)).rejects.toMatchObject({ code: "not-found" });
    const noted = await database().auditEntry.findMany({ where: { action: "photo.removed" } });
    expect(noted).toMatchObject([{ personId: bench.personId, subjectId: partId }]);
  });

  it("is neither taken from nor shown to a role that is not known", async () => {
    const id = await addPhoto(bench, upload(camera), NOW);
    const stranger = { ...desk, role: "VISITOR" } as unknown as Actor;
    const calls = [
      () => addPhoto(stranger, upload(camera), NOW),
      () => removePhoto(stranger, id, NOW),
      () => photoImage(stranger, id, "thumb"),
    ];
    for (const call of calls) await expect(call()).rejects.toMatchObject({ code: "not-allowed" });
    expect((await photoImage(desk, id, "thumb")).byteLength).toBeGreaterThan(0);
  });
});
