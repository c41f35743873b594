import {
  findShop,
  hashPassword,
  inTransaction,
  insertPerson,
  insertRateCard,
  insertShop,
  recordAudit,
  replaceOpeningHours,
  takeSetupCode,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { loadExampleShop } from "@/prisma/seed";
import { addDays, calendarDay } from "../calendar";
import { checkNewPassword } from "../people/password";
import { hashSetupCode } from "./setup-code";
import { checkPlace } from "./place";

export type NewShop = {
  readonly setupCode: string;
  readonly ownerName: string;
  readonly ownerEmail: string;
  readonly password: string;
  readonly shopName: string;
  readonly timeZone: string;
  readonly currency: string;
  readonly locale: string;
  readonly unitSystem: "METRIC" | "US";
  readonly contents: "EMPTY" | "EXAMPLE";
};

/** Monday to Friday, 08:00 to 17:00: a start that the owner changes under Settings. */
const USUAL_HOURS = [1, 2, 3, 4, 5].map((weekday) => ({
  weekday,
  opensMinute: 8 * 60,
  closesMinute: 17 * 60,
}));

/**
 * Opens the shop on the first visit, with its owner, empty or with the example shop. The one-time code is used
 * up in the same transaction, and the shop's row has a fixed key: of any number of callers one opens it.
 *
 * @throws Refusal conflict | invalid
 */
export async function openShop(shop: NewShop, now: Date): Promise<void> {
  checkPlace(shop);
  const email = shop.ownerEmail.trim().toLowerCase();
  checkNewPassword(shop.password, email);
  const passwordHash = await hashPassword(shop.password);
  await inTransaction(async (db) => {
    if (await findShop(db)) throw new Refusal("conflict", "This shop is already open. Sign in.");
    if (!(await takeSetupCode(db, hashSetupCode(shop.setupCode)))) {
      throw new Refusal("invalid", "That is not the code in the terminal.", {
        setupCode: "Enter the newest code that was printed when the service started.",
      });
    }
    const { timeZone, currency, locale, unitSystem } = shop;
    const isExample = shop.contents === "EXAMPLE";
    await insertShop(db, {
      name: shop.shopName,
      timeZone,
      currency,
      locale,
      unitSystem,
      isExample,
      openedAt: now,
    });
    const owner = {
      email,
      name: shop.ownerName,
      role: "OWNER",
      createdAt: now,
      passwordHash,
    } as const;
    const ownerId = await insertPerson(db, owner);
    if (isExample) {
      const { shopName } = shop;
      await loadExampleShop(db, { now, timeZone, currency, shopName, ownerId });
    } else {
      await replaceOpeningHours(db, USUAL_HOURS);
      // From the day before, since a day has one card: the owner's own can hold from today.
      const validFrom = addDays(calendarDay(now, timeZone), -1);
      await insertRateCard(db, { ...STARTING_RATES, validFrom });
    }
    await recordAudit(db, {
      actor: { personId: ownerId },
      at: now,
      action: "shop.opened",
      subjectType: "shop",
      subjectId: "1",
      detail: { example: isExample },
    });
  });
}

/** A card of plain numbers to begin with: every shop sets its own before its first quote. */
const STARTING_RATES = {
  labourPerHourMinor: 4000,
  intakeMinutesPerPart: 10,
  loadMinutesPerRun: 15,
  pullMinutesPerRun: 10,
  finishMinutesPerM2: 60,
  tankHourMinor: 100,
  energyPerKwhMinor: 30,
  sodaPerKgMinor: 200,
  anodeSteelPerKgMinor: 400,
  disposalPerLitreMinor: 10,
  consumablesPerPartMinor: 200,
  overheadPercent: 15,
  marginPercent: 20,
  contingencyShare: 0.5,
  minimumChargeMinor: 3000,
  rushPercent: 25,
  skills: [],
  energyBands: [],
  discountSteps: [],
  overheadBasis: "DIRECT_COST",
  overheadPerTankHourMinor: 0,
  taxRules: [{ code: "standard", label: "Tax as usual", taxes: [{ name: "Tax", percent: 0 }] }],
  pricesIncludeTax: false,
  rounding: "TIES_TO_EVEN",
  priceStepMinor: 1,
} as const;
