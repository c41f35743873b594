/** Valid rows for tests of stock, quotes and costs. Each takes overrides; what is left out is plausible. */
import type { Actor, Role } from "@/lib/access";
import { database } from "@/lib/data/client";

/** A Monday morning on which everything has been set up. */
export const NOW = new Date("2030-01-07T09:00:00Z");
const OPENED = new Date("2029-06-01T08:00:00Z");

let serial = 0;
const next = (): number => (serial += 1);

/** The shop, in Berlin and euros, with a rate card from its first day. */
export async function createShopWithRates(): Promise<void> {
  await database().shop.create({
    data: {
      name: "Trough & Anode",
      timeZone: "Europe/Berlin",
      currency: "EUR",
      locale: "en-IE",
      openedAt: OPENED,
      quoteTerms: "Payment on collection.",
    },
  });
  await database().rateCard.create({ data: RATES });
}

export const RATES = {
  validFrom: new Date("2029-06-01T00:00:00Z"),
  labourPerHourMinor: 4800,
  intakeMinutesPerPart: 10,
  loadMinutesPerRun: 15,
  pullMinutesPerRun: 10,
  finishMinutesPerM2: 60,
  tankHourMinor: 100,
  energyPerKwhMinor: 30,
  sodaPerKgMinor: 200,
  anodeSteelPerKgMinor: 400,
  disposalPerLitreMinor: 10,
  consumablesPerPartMinor: 150,
  overheadPercent: 10,
  marginPercent: 20,
  contingencyShare: 0.5,
  minimumChargeMinor: 1000,
  rushPercent: 25,
  skills: [],
  energyBands: [],
  discountSteps: [],
  overheadBasis: "DIRECT_COST",
  overheadPerTankHourMinor: 0,
  taxRules: [
    { code: "standard", label: "VAT as usual", taxes: [{ name: "VAT", percent: 19 }] },
    { code: "none", label: "Not taxed", taxes: [] },
  ],
  pricesIncludeTax: false,
  rounding: "TIES_TO_EVEN",
  priceStepMinor: 1,
} as const;

export async function createActor(role: Role = "OWNER"): Promise<Actor> {
  const number = next();
  const person = await database().person.create({
    data: {
      email: `person-${number}@example.org`,
      name: `${role} ${number}`,
      role,
      passwordHash: "!",
      createdAt: OPENED,
    },
  });
  return { personId: person.id, name: person.name, role };
}

export async function createItem(
  overrides: Partial<Parameters<ReturnType<typeof database>["item"]["create"]>[0]["data"]> = {},
) {
  return database().item.create({
    data: {
      name: `item ${next()}`,
      kind: "SALT" as const,
      saltGrade: "SODA_ASH_LIGHT",
      unit: "GRAM" as const,
      reorderPoint: 1000,
      reorderQuantity: 5000,
      createdAt: OPENED,
      ...overrides,
    },
  });
}

/** A delivery, received through the ledger as the database demands. */
export async function createLot(
  itemId: string,
  enteredById: string,
  {
    quantity = 1000,
    costMinor = 500,
    receivedAt = OPENED,
    expiresOn = null,
  }: {
    quantity?: number;
    costMinor?: number;
    receivedAt?: Date;
    expiresOn?: Date | null;
  } = {},
) {
  const lot = await database().lot.create({
    data: { itemId, receivedAt, quantity, costMinor, expiresOn },
  });
  await database().ledgerEntry.create({
    data: {
      itemId,
      lotId: lot.id,
      at: receivedAt,
      kind: "RECEIVED",
      quantity,
      costMinor,
      enteredById,
    },
  });
  return lot;
}

export async function createTank() {
  return database().tank.create({
    data: {
      name: `tank ${next()}`,
      kind: "ROUND",
      topLengthMm: 500,
      topWidthMm: 500,
      bottomLengthMm: 450,
      bottomWidthMm: 450,
      depthMm: 800,
      workingLevelMm: 650,
      createdAt: OPENED,
    },
  });
}

export async function createJob(actor: Actor, overrides: { takenInAt?: Date } = {}) {
  const number = next();
  const customer = await database().customer.create({
    data: { name: `Customer ${number}`, address: "1 Mill Lane", createdAt: OPENED },
  });
  return database().job.create({
    data: {
      number: 1000 + number,
      customerId: customer.id,
      takenInAt: overrides.takenInAt ?? NOW,
      takenInById: actor.personId,
    },
  });
}

/** A part of a job with a plan in a tank. */
export async function createPlannedPart(
  actor: Actor,
  jobId: string,
  tankId: string,
  { mark = "A", quantity = 1 }: { mark?: string; quantity?: number } = {},
) {
  const part = await database().part.create({
    data: {
      jobId,
      mark,
      description: "gate hinge",
      state: "PLANNED",
      quantity,
      shape: "PLATE",
      lengthMm: 300,
      widthMm: 60,
      heightMm: 6,
      material: "MILD_STEEL",
      rustGrade: "C",
      coatings: [],
      hazards: [],
      createdAt: NOW,
    },
  });
  const plan = await database().plan.create({
    data: {
      partId: part.id,
      tankId,
      version: 1,
      madeAt: NOW,
      madeById: actor.personId,
      areaM2: 0.05,
      solutionL: 100,
      saltGrade: "SODA_ASH_LIGHT",
      saltG: 500,
      currentA: 2,
      hoursP50: 5,
      hoursP90: 9,
      chargeAh: 10,
      anodeLossG: 1.6,
      energyKwh: 0.2,
      result: { hours: { p10: 3, p50: 5, p90: 9 }, freshMix: true, reliefBake: null },
    },
  });
  return { part, plan };
}

/** A load that was put in and pulled; dips are made by the caller. */
export async function createPulledRun(
  tankId: string,
  overrides: {
    loadedAt?: Date;
    pulledAt?: Date;
    bathId?: string;
    chargeAh?: number;
    energyKwh?: number;
  } = {},
) {
  const number = next();
  const loadedAt = overrides.loadedAt ?? new Date(NOW.getTime() - 8 * 3_600_000);
  const pulledAt = overrides.pulledAt ?? NOW;
  return database().run.create({
    data: {
      number,
      tankId,
      bathId: overrides.bathId ?? null,
      state: "PULLED",
      startsAt: loadedAt,
      endsAt: pulledAt,
      loadedAt,
      pulledAt,
      expectedCurrentA: 2,
      currentLowA: 1,
      currentHighA: 3,
      targetChargeAh: 10,
      chargeAh: overrides.chargeAh ?? 16,
      energyKwh: overrides.energyKwh ?? 0.4,
      bookedAt: loadedAt,
      idempotencyKey: `run-${number}`,
    },
  });
}
