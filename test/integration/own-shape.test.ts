/** A part's own shape: brought by anybody who takes parts in, read beside the server's other work. */
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { blockMesh, catalogueMesh, measure } from "@/lib/field";
import {
  addOwnShape,
  askForChangedFields,
  changePart,
  fieldOfPart,
  fromDrawing,
  makePlan,
  ownShape,
  partById,
  removeOwnShape,
  removePart,
  solveNextField,
  takeOverMeasures,
} from "@/lib/services";
import { meshFromBytes } from "@/app/(shop)/parts/[id]/shape-bytes";
import { numbersFrom } from "../support/cut-boxes";
import { createPart, SKILLET } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { createReadyTank } from "../support/factories-tanks";
import { asBytes, binaryStl, cornersIn, textStl } from "../support/stl-files";
import { outcomes } from "../support/people";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
const LATER = new Date(NOW.getTime() + 3_600_000);
const BLOCK = blockMesh([-0.1, -0.03, 0], [0.1, 0.03, 0.04]);

let desk: Actor;
let bench: Actor;
let partId: string;

beforeAll(async () => {
  await createShopWithRates();
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  await database().planField.deleteMany();
  await database().part.updateMany({ data: { state: "HANDED_BACK" } });
  await database().tank.updateMany({ data: { retiredAt: NOW } });
  await createReadyTank();
  partId = await createPart(desk);
});

const file = (bytes: Uint8Array | string, name = "block.stl"): File =>
  new File([typeof bytes === "string" ? bytes : new Uint8Array(bytes)], name);
const block = (): File => file(binaryStl(cornersIn(BLOCK, 0.001)));

const add = (upload: File, unit = "mm", id = partId): Promise<unknown> =>
  addOwnShape(desk, { partId: id, file: upload, unit }, NOW);

function endlessText(): string {
  const facet =
    "facet normal 0 0 0 outer loop vertex 1e-3 2e-3 3e-3 vertex 4 5 6 vertex 7 8 9 endloop endfacet\n";
  return `solid x\n${facet.repeat(270_000)}`.slice(0, 25 * 1024 * 1024);
}

function thrownAbout(): Uint8Array {
  const random = numbersFrom(7);
  return binaryStl(
    Array.from({ length: 500_000 }, () => Array.from({ length: 9 }, () => 500 * random())),
  );
}

/** What a refusal says beside the field. */
async function whyNot(upload: File, unit = "mm"): Promise<string> {
  const { refusals } = await outcomes([add(upload, unit)]);
  return Object.values(refusals[0]?.fields ?? {}).join(" ");
}

describe("a part's own shape", () => {
  it("is kept mended and measured, and comes back to a browser as it was", async () => {
    await add(file(textStl(cornersIn(BLOCK, 0.001)), "  hinge\u0000\u202e block.stl "));
    const { mesh } = await partById(bench, partId);
    expect(mesh).toMatchObject({
      fileName: "hinge block.stl",
      unit: "mm",
      triangles: 12,
      corners: 8,
    });
    expect(mesh?.areaM2).toBeCloseTo(measure(BLOCK).areaM2, 9);
    expect(mesh?.volumeM3).toBeCloseTo(0.2 * 0.06 * 0.04, 9);
    expect([mesh?.lengthM, mesh?.widthM, mesh?.heightM].map((m) => m?.toFixed(6))).toEqual([
      "0.200000",
      "0.060000",
      "0.040000",
    ]);
    const { bytes, hash } = await ownShape(bench, partId);
    expect(hash).toBe(mesh?.hash);
    const sent = measure(meshFromBytes(bytes.slice().buffer));
    expect(sent.volumeM3).toBeCloseTo(0.2 * 0.06 * 0.04, 8);
  });

  it("says what was mended", async () => {
    const pan = cornersIn(catalogueMesh("PAN", SKILLET), 0.001);
    // One small triangle of the rim is missing.
    await add(file(binaryStl(pan.filter((_, triangle) => triangle !== 200))));
    const { mesh } = await partById(bench, partId);
    expect(mesh?.mended.join()).toContain("hole");
    expect(mesh?.triangles).toBe(pan.length);
  });

  it("takes the place of the one before it, whoever of four comes last", async () => {
    const { done } = await outcomes(Array.from({ length: 4 }, () => add(block())));
    expect(done).toBe(4);
    expect(await database().partMesh.count({ where: { partId } })).toBe(1);
  });

  it.each([
    ["nothing", file(""), "Choose an STL file."],
    [
      "a picture",
      file(asBytes("\u0089PNG\r\n\u001a\n and so on, over and over again")),
      "cannot be read",
    ],
    [
      "a sheet without a back",
      file(binaryStl(cornersIn(BLOCK, 0.001).slice(0, 2))),
      "cannot be used",
    ],
    ["a part of 200 m", file(binaryStl(cornersIn(BLOCK, 0.000001))), "Is the unit right?"],
  ])("is refused with the reason: %s", async (_what, upload, why) => {
    expect(await whyNot(upload)).toContain(why);
    expect((await partById(desk, partId)).mesh).toBeNull();
  });

  it("is refused by its size before a byte is read", async () => {
    const never = {
      size: 26 * 1024 * 1024,
      name: "huge.stl",
      arrayBuffer: () => expect.fail("read"),
    };
    const upload = { partId, file: never, unit: "mm" };
    await expect(addOwnShape(desk, upload, NOW)).rejects.toMatchObject({
      code: "invalid",
      fields: { file: "The file has 26.0 MB; at most 25.0 MB can be read." },
    });
    expect(await whyNot(block(), "furlong")).toContain("Expected one of mm, cm, m, in");
  });

  it.each([
    ["25 MB of words without an end", endlessText, "cannot be read"],
    ["half a million triangles thrown about", thrownAbout, "separate pieces"],
  ])("does not stall the server: %s", async (_what, hostile, expected) => {
    const upload = file(hostile());
    let [last, longest] = [performance.now(), 0];
    const clock = setInterval(() => {
      const now = performance.now();
      longest = Math.max(longest, now - last);
      last = now;
    }, 10);
    const why = await whyNot(upload);
    clearInterval(clock);
    expect(why).toContain(expected);
    // Handing 25 MB to a thread is a copy; reading them here would take seconds.
    expect(longest).toBeLessThan(250);
  });

  it("is for those who take parts in, and who may see the shop", async () => {
    const nobody = { ...desk, role: "CUSTOMER" as Actor["role"] };
    await expect(
      addOwnShape(nobody, { partId, file: block(), unit: "mm" }, NOW),
    ).rejects.toMatchObject({ code: "not-allowed" });
    await expect(removeOwnShape(nobody, partId, NOW)).rejects.toMatchObject({
      code: "not-allowed",
    });
    await expect(takeOverMeasures(nobody, partId, NOW)).rejects.toMatchObject({
      code: "not-allowed",
    });
    await expect(ownShape(nobody, partId)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(fieldOfPart(nobody, partId)).rejects.toMatchObject({ code: "not-allowed" });
  });

  it("is not brought for a part that is gone, and goes with a part that is removed", async () => {
    await add(block());
    await database().part.update({ where: { id: partId }, data: { state: "HANDED_BACK" } });
    await expect(add(block())).rejects.toMatchObject({ code: "conflict" });
    await database().part.update({ where: { id: partId }, data: { state: "TAKEN_IN" } });
    await removePart(desk, partId, LATER);
    expect(await database().partMesh.count({ where: { partId } })).toBe(0);
  });

  it("is removed once", async () => {
    await add(block());
    const calls = Array.from({ length: 5 }, () => removeOwnShape(bench, partId, LATER));
    const { done, refusals } = await outcomes(calls);
    expect(done).toBe(1);
    expect(refusals.every(({ code }) => code === "not-found")).toBe(true);
  });
});

describe("what the drawing measures", () => {
  it("is taken over by one press, said to be the drawing's, and undone by changing the part", async () => {
    partId = await createPart(desk, { massG: null });
    await add(block());
    await makePlan(desk, { partId, ...CHOICE }, NOW);
    await takeOverMeasures(bench, partId, LATER);
    const taken = await partById(desk, partId);
    expect(taken).toMatchObject({ state: "TAKEN_IN", lengthMm: 200, widthMm: 60, heightMm: 40 });
    // 0.2 × 0.06 × 0.04 m of cast iron at 7.2 g/cm³.
    expect(taken.massG).toBeCloseTo(3456, 0);
    expect(fromDrawing(taken)).toEqual({ area: true, mass: true });
    await makePlan(desk, { partId, ...CHOICE }, LATER);
    const { plan } = await partById(desk, partId);
    expect(plan?.result.figures.areaM2).toMatchObject({
      value: taken.areaOverrideM2,
      source: "the part's own drawing",
    });
    await changePart(desk, partId, { ...SKILLET, areaOverrideM2: null }, LATER);
    expect(fromDrawing(await partById(desk, partId))).toEqual({ area: false, mass: false });
  });

  it("leaves what was weighed, and is refused once a run is booked", async () => {
    await add(block());
    await takeOverMeasures(desk, partId, LATER);
    expect((await partById(desk, partId)).massG).toBe(SKILLET.massG);
    await database().part.update({ where: { id: partId }, data: { state: "BOOKED" } });
    await expect(takeOverMeasures(desk, partId, LATER)).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("the field of a part with its own shape", () => {
  it("is asked for anew when the shape comes and goes, and is that of the shape", async () => {
    await makePlan(desk, { partId, ...CHOICE }, NOW);
    await solveNextField();
    const plain = await fieldOfPart(bench, partId);
    expect(plain).toMatchObject({ state: "DONE", outdated: false, wanted: true });

    await add(
      file(binaryStl(cornersIn(catalogueMesh("PAN", { ...SKILLET, heightMm: 80 }), 0.001))),
    );
    expect(await fieldOfPart(bench, partId)).toMatchObject({ outdated: true });
    expect(await askForChangedFields(LATER)).toBe(1);
    expect(await fieldOfPart(bench, partId)).toMatchObject({ state: "WAITING", outdated: true });
    await solveNextField();
    const shaped = await fieldOfPart(bench, partId);
    expect(shaped).toMatchObject({ state: "DONE", outdated: false, why: "" });
    // A rim of 80 mm in place of 50 mm wets more.
    expect(shaped?.findings?.wetAreaM2).toBeGreaterThan(1.15 * (plain?.findings?.wetAreaM2 ?? 1));

    await removeOwnShape(desk, partId, LATER);
    expect(await askForChangedFields(LATER)).toBe(1);
  });
});
