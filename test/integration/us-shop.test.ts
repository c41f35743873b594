import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { quantityFrom } from "@/app/(shop)/stock/typed-quantity";
import { saltFields, saltOf, tankForm, tankOf } from "@/app/(shop)/tanks/form-values";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { isRefusal } from "@/lib/errors";
import { input } from "@/lib/server";
import {
  addItem,
  addTank,
  changeShop,
  makePlan,
  mixBath,
  receiveLot,
  shopSettingsFor,
} from "@/lib/services";
import { said } from "@/lib/units";
import { createPart } from "../support/factories-intake";
import { createReadyTank } from "../support/factories-tanks";
import { later, MINUTE_MS, openEmptyShop } from "../support/people";
import { z } from "zod";

const SOON = later(MINUTE_MS);
const US = "US";
let owner: Actor;

beforeAll(async () => {
  owner = await openEmptyShop();
  const { shop } = await shopSettingsFor(owner, SOON);
  const workshopTempC = input.measureFrom("temperature", 0, 45, US).parse("68 °F");
  await changeShop(owner, { ...shop, unitSystem: US, workshopTempC }, SOON);
});

/** A bucket as its form would send it from this shop. */
const typedBucket = () =>
  tankForm(US).parse({
    name: `bucket ${randomUUID()}`,
    kind: "ROUND",
    topLengthMm: "11 1/2",
    bottomLengthMm: "10 in",
    depthMm: "1 ft 2 1/2 in",
    workingLevelMm: "12",
    clearanceMm: "1 1/2 in",
    leadLengthM: "6 ft",
    leadAreaMm2: "10 AWG",
    contactOhm: "0.02",
  });

describe("a shop that works in US customary units", () => {
  it("stores 68 °F as 20 °C", async () => {
    expect((await shopSettingsFor(owner, SOON)).shop).toMatchObject({
      unitSystem: "US",
      workshopTempC: 20,
    });
  });

  it("stores a tank's inches, feet and gauge in SI, to the last digit", async () => {
    const id = await addTank(owner, tankOf(typedBucket()), SOON);
    expect(await database().tank.findUniqueOrThrow({ where: { id } })).toMatchObject({
      topLengthMm: 292.1,
      bottomLengthMm: 254,
      depthMm: 368.3,
      workingLevelMm: 304.8,
      clearanceMm: 38.1,
      leadLengthM: 1.8288,
      // ASTM B258: 10 AWG is 0.1019 in, 5.261 mm²
      leadAreaMm2: expect.closeTo(5.261, 3),
    });
  });

  it("takes in gallons and cups, and draws what a cup weighs from stock", async () => {
    const itemId = await addItem(owner, { ...SODA, name: "soda" }, SOON);
    const came = quantityFrom("5 lb", "GRAM", US, "quantity");
    await receiveLot(owner, { ...DELIVERY, itemId, quantity: came }, SOON);
    const tankId = await addTank(owner, tankOf(typedBucket()), SOON);
    const typed = z.object(saltFields(US)).parse({ saltItemId: itemId, saltG: "1/2 cup" });
    const levelMm = input.measureFrom("length", 0, 5000, US).parse("12");
    const salt = saltOf(itemId, typed.saltG);
    const mix = { tankId, levelMm, salt, temperatureC: null, idempotencyKey: randomUUID() };
    await mixBath(owner, mix, SOON);

    const bath = await database().bath.findFirstOrThrow({ where: { tankId } });
    // Light soda ash is 0.61 g/mL as poured; half a US cup is 118.29411825 mL.
    const saltG = 0.61 * 118.294_118_25;
    expect(bath).toMatchObject({ temperatureC: 20, carbonateG: expect.closeTo(saltG, 9) });
    const [received, used] = await database().ledgerEntry.findMany({
      where: { itemId },
      orderBy: { quantity: "desc" },
    });
    expect(Number(received?.quantity)).toBe(2267.962);
    expect(Number(used?.quantity)).toBeCloseTo(-saltG, 3);
  });

  it("stores 2 gal of oil by the millilitre", () => {
    expect(quantityFrom("2 gal", "MILLILITRE", US, "quantity")).toBe(7570.824);
  });

  it("says in inches why no tank takes a part, and metric to others", async () => {
    await createReadyTank();
    const partId = await createPart(owner, { lengthMm: 2540, widthMm: 508, heightMm: 508 });
    const choice = { partId, goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
    const refused: unknown = await makePlan(owner, choice, SOON).catch((error: unknown) => error);
    const message = isRefusal(refused) ? refused.message : "planned";
    expect(said(message, US)).toContain("100 × 20 × 20 in does not go into");
    expect(said(message, "METRIC")).toContain("2540 × 508 × 508 mm does not go into");
  });
});

const SODA = {
  kind: "SALT",
  saltGrade: "SODA_ASH_LIGHT",
  unit: "GRAM",
  gramsPerUnit: null,
  category: "",
  packName: "",
  packQuantity: null,
  reorderPoint: 0,
  reorderQuantity: 0,
  supplierName: "",
  place: "",
} as const;

const DELIVERY = {
  costMinor: 500,
  receivedAt: SOON,
  supplierName: "",
  expiresOn: null,
  place: "",
} as const;
