"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { ROUNDINGS } from "@/lib/money";
import { OVERHEAD_BASES } from "@/lib/pricing";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  addRateCard,
  changeShop,
  closeDay,
  endSpecialOpening,
  openSpecially,
  reopenDay,
  setOpeningHours,
} from "@/lib/services";
import { Refusal } from "@/lib/errors";
import { UNIT_SYSTEMS, type UnitSystem } from "@/lib/units";
import { typedAmount } from "../typed-amount";
import { MONEY_FIELDS, MOST_FINISHING, NUMBER_FIELDS, storedRate } from "./rate-fields";
import { bandsFrom, rulesFrom, skillsFrom, stepsFrom } from "./rate-lists";

const shopForm = (units: UnitSystem) =>
  z.object({
    name: input.text("a name"),
    address: input.optionalText(400),
    email: input.optionalEmail,
    phone: input.optionalText(60),
    timeZone: input.text("a time zone"),
    locale: input.text("a language and country", 20),
    currency: input.text("a currency", 3),
    unitSystem: z.enum(["METRIC", "US"]),
    workshopTempC: input.measureFrom("temperature", 0, 45, units),
    roomVolumeM3: input.measureFrom("roomVolume", 1, 100_000, units),
    humidityPercent: input.numberFrom(5, 100, "%"),
    bakeStartMinutes: input.numberFrom(15, 240, "min").transform(Math.round),
    quoteValidDays: input.numberFrom(1, 365, "days").transform(Math.round),
    quoteDepositPercent: input.numberFrom(0, 100, "%"),
    quoteTerms: input.optionalText(4000),
  });

export const changeShopAction = formAction(shopForm, async (actor, shop) => {
  await changeShop(actor, shop, new Date());
  revalidatePath("/", "layout");
});

const DAYS = [1, 2, 3, 4, 5, 6, 7] as const;
const clock = z
  .string()
  .default("")
  .refine((typed) => typed === "" || /^([01]\d|2[0-3]):[0-5]\d$/.test(typed), {
    error: "Enter a time such as 08:00.",
  });
const HoursForm = z.object(
  Object.fromEntries(
    DAYS.flatMap((weekday) => [
      [`opens${weekday}`, clock],
      [`closes${weekday}`, clock],
    ]),
  ),
);

export const setHoursAction = formAction(HoursForm, async (actor, times) => {
  const spans = DAYS.flatMap((weekday) => {
    const opens = times[`opens${weekday}`] ?? "";
    const closes = times[`closes${weekday}`] ?? "";
    if (opens === "" && closes === "") return [];
    if (opens === "" || closes === "") {
      throw new Refusal("invalid", "A day needs both times, or neither.", {
        [opens === "" ? `opens${weekday}` : `closes${weekday}`]: "Enter this time too.",
      });
    }
    return [{ weekday, opensMinute: minuteOf(opens), closesMinute: minuteOf(closes) }];
  });
  await setOpeningHours(actor, spans, new Date());
  revalidatePath("/settings");
});

function minuteOf(time: string): number {
  const [hours = "0", minutes = "0"] = time.split(":");
  return Number(hours) * 60 + Number(minutes);
}

const WorkForm = z.object({
  hands: input.numberFrom(1, 20, "people").transform(Math.round),
  bathLifeAhPerL: input.numberFrom(1, 1000, "A·h per litre"),
});

/** How many hands the bench has, and when a bath is taken to be spent: what bookings are held to. */
export const changeWorkAction = formAction(WorkForm, async (actor, work) => {
  await changeShop(actor, work, new Date());
  revalidatePath("/", "layout");
});

const SpecialOpeningForm = z.object({
  day: input.day,
  opens: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, "Enter a time such as 08:00."),
  closes: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, "Enter a time such as 12:00."),
  reason: input.optionalText(200),
});

export const openSpeciallyAction = formAction(
  SpecialOpeningForm,
  async (actor, { day, opens, closes, reason }) => {
    const hours = { opensMinute: minuteOf(opens), closesMinute: minuteOf(closes) };
    await openSpecially(actor, { day, reason, ...hours }, new Date());
    revalidatePath("/settings");
  },
);

export const endSpecialOpeningAction = formAction(
  z.object({ id: input.id }),
  async (actor, { id }) => {
    await endSpecialOpening(actor, id, new Date());
    revalidatePath("/settings");
  },
);

const ClosedDayForm = z.object({ day: input.day, reason: input.optionalText(200) });

export const closeDayAction = formAction(ClosedDayForm, async (actor, closed) => {
  await closeDay(actor, closed, new Date());
  revalidatePath("/settings");
});

export const reopenDayAction = formAction(z.object({ day: input.day }), async (actor, { day }) => {
  await reopenDay(actor, day, new Date());
  revalidatePath("/settings");
});

type MoneyName = (typeof MONEY_FIELDS)[number]["name"];
type NumberName = (typeof NUMBER_FIELDS)[number]["name"];

/** Fields of rows: those of one row stand at the same place of each list. */
const typedRows = () => z.array(z.string().max(80, "At most 80 characters.")).max(20);
const lists = {
  skillName: typedRows(),
  skillRate: typedRows(),
  bandName: typedRows(),
  bandDays: typedRows(),
  bandFrom: typedRows(),
  bandTo: typedRows(),
  bandRate: typedRows(),
  stepFrom: typedRows(),
  stepPercent: typedRows(),
  ruleCode: typedRows(),
  ruleLabel: typedRows(),
  tax1Name: typedRows(),
  tax1Percent: typedRows(),
  tax2Name: typedRows(),
  tax2Percent: typedRows(),
};

const rateForm = (units: UnitSystem) =>
  z.object({
    units: z.enum(UNIT_SYSTEMS),
    finishMinutesPerM2: input.measureFrom("workOnArea", 0, MOST_FINISHING, units),
    validFrom: input.day,
    overheadBasis: z.enum(OVERHEAD_BASES, { error: "Choose what overhead goes by." }),
    rounding: z.enum(ROUNDINGS, { error: "Choose how amounts are rounded." }),
    pricesIncludeTax: z.string().optional(),
    ...lists,
    ...(Object.fromEntries(
      MONEY_FIELDS.map(({ name }) => [name, input.text("an amount", 20)]),
    ) as Record<MoneyName, ReturnType<typeof input.text>>),
    ...(Object.fromEntries(
      NUMBER_FIELDS.map(({ name, unit, most }) => [name, input.numberFrom(0, most, unit)]),
    ) as Record<NumberName, ReturnType<typeof input.numberFrom>>),
  });

export const addRateCardAction = formAction(rateForm, async (actor, typed) => {
  const { currency } = await shopSettings();
  const { units, validFrom, finishMinutesPerM2, overheadBasis, rounding } = typed;
  const amounts = Object.fromEntries(
    MONEY_FIELDS.map((field) => {
      const entered = typedAmount(field.name, typed[field.name], currency, 0);
      return [field.name, storedRate(field, entered, units)];
    }),
  ) as Record<MoneyName, number>;
  const numbers = Object.fromEntries(
    NUMBER_FIELDS.map(({ name }) => [name, typed[name]]),
  ) as Record<NumberName, number>;
  const card = {
    ...{ validFrom, finishMinutesPerM2, overheadBasis, rounding, ...numbers, ...amounts },
    pricesIncludeTax: typed.pricesIncludeTax !== undefined,
    skills: skillsFrom(typed, currency),
    energyBands: bandsFrom(typed, currency),
    discountSteps: stepsFrom(typed, currency),
    taxRules: rulesFrom(typed),
  };
  await addRateCard(actor, card, new Date());
  revalidatePath("/settings");
  return { message: "The rates are in the list above." };
});
