/** The example shop's quotes, priced by the shop's own rules, and what the customers said to them. */
import { type PricedPart, type PricedQuote, quoteLines, type RateCard } from "@/lib/pricing";
import { DAY, dayOf, HOUR, nextOpen } from "./calendar";
import type { SeedPlan } from "./planning";
import { random } from "./random";
import { note, type SeedJob, type SeedPart, type World } from "./world";

type Planned = { readonly part: SeedPart; readonly plan: SeedPlan };
type VersionRow = World["rows"]["quoteVersions"][number];

/** What the customer answered, and when. */
export type Answer =
  | { readonly kind: "accepted"; readonly at: Date }
  | { readonly kind: "declined"; readonly at: Date }
  | { readonly kind: "waiting"; readonly until: Date };

const VALID_DAYS = 30;
const ACCEPTED_SHARE = 0.86;
const SILENT_SHARE = 0.06;
/** A load uses up about this share of its bath. */
const BATH_SHARE = 0.03;

/** One quote in so many offers rush beside the usual; of these, every third also offers to wait. */
const WAYS_EVERY = 6;
const THREE_WAYS_EVERY = 18;
/** The quote that was changed once before it was answered. */
const CHANGED_QUOTE = 8;

/** One way of doing the job, as the example shop words it. */
type Way = { readonly name: string; readonly rush?: true; readonly discountPercent?: number };
const AS_PLANNED: Way = { name: "As planned" };
const RUSH: Way = { name: "Rush", rush: true };
const PATIENT: Way = { name: "Whenever a tank is free", discountPercent: 5 };

function waysOf(number: number, job: SeedJob): readonly Way[] {
  if (number % THREE_WAYS_EVERY === 0) return [AS_PLANNED, RUSH, PATIENT];
  return number % WAYS_EVERY === 0 || job.rush === true ? [AS_PLANNED, RUSH] : [AS_PLANNED];
}

/** Writes the quote of a job and the customer's answer, as far as time has come. */
export function quoteJob(
  world: World,
  job: SeedJob,
  planned: readonly Planned[],
  quotedAt: Date,
): Answer {
  const quoteId = world.chance.uuid();
  const versionId = world.chance.uuid();
  const leadingId = world.chance.uuid();
  const number = world.rows.quotes.length + 1;
  world.rows.quotes.push({ id: quoteId, number, jobId: job.id, createdAt: quotedAt });
  // What was added to the history later draws its chances apart, so that all else stays as it was.
  const apart: World = { ...world, chance: random(number) };
  const changed = number === CHANGED_QUOTE;
  if (changed) {
    const before = new Date(quotedAt.getTime() - 2 * HOUR);
    const first = { id: apart.chance.uuid(), quoteId, version: 1, state: "SUPERSEDED" } as const;
    world.rows.quoteVersions.push({ ...versionColumns(world, before), ...first });
    addWays(apart, { versionId: first.id, planned, quotedAt: before }, [AS_PLANNED]);
    note(world, before, world.people.deskId, "quote.sent", quoteId);
  }
  const ways = changed ? [AS_PLANNED, RUSH] : waysOf(number, job);
  const version: VersionRow = {
    ...versionColumns(world, quotedAt),
    id: versionId,
    quoteId,
    version: changed ? 2 : 1,
    state: "SENT",
    messageToCustomer: changed ? "As you asked, with a price for doing it first." : "",
  };
  world.rows.quoteVersions.push(version);
  const optionIds = addWays(apart, { versionId, planned, quotedAt, leadingId }, ways);
  note(world, quotedAt, world.people.deskId, "quote.sent", quoteId);
  // Who is in a hurry chose it; everybody else took what was led with.
  const rushId = optionIds[ways.indexOf(RUSH)];
  const optionId = (job.rush === true ? rushId : undefined) ?? optionIds[0] ?? "";
  return answer(world, job, { version, optionId }, quotedAt);
}

const versionColumns = (world: World, quotedAt: Date) => ({
  madeAt: quotedAt,
  sentAt: quotedAt,
  validUntil: dayOf(world.zone, new Date(quotedAt.getTime() + VALID_DAYS * DAY)),
  currency: world.currency,
  terms: "Cleaned, not certified: parts that carry people or pressure need their own inspection.",
});

type Offer = {
  readonly versionId: string;
  readonly planned: readonly Planned[];
  readonly quotedAt: Date;
  /** id of the first option; one of its own where left out */
  readonly leadingId?: string;
};

/** @returns the options' ids, in the order of the ways */
function addWays(
  world: World,
  { versionId, planned, quotedAt, leadingId }: Offer,
  ways: readonly Way[],
): readonly string[] {
  const rates = ratesOn(world, quotedAt);
  return ways.map((way, position) => {
    const { rush = false, discountPercent } = way;
    const wish = { rush, ...(discountPercent !== undefined && { discountPercent }) };
    const priced = quoteLines(planned.map(pricedPart), rates, wish);
    const id = (position === 0 ? leadingId : undefined) ?? world.chance.uuid();
    addOption(world, versionId, { id, way, position, priced, planned });
    return id;
  });
}

type NewOption = {
  readonly id: string;
  readonly way: Way;
  readonly position: number;
  readonly priced: PricedQuote;
  readonly planned: readonly Planned[];
};

function addOption(
  world: World,
  quoteVersionId: string,
  { id, way, position, priced, planned }: NewOption,
): void {
  const { netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax } = priced;
  world.rows.quoteOptions.push({
    id,
    quoteVersionId,
    position,
    name: way.name,
    rush: way.rush ?? false,
    discountPercent: priced.discountPercent,
    ...{ netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax },
    taxes: [...priced.taxes],
    estimate: {
      priced,
      promises: planned.map(promise),
      planVersions: planVersions(planned),
      plannedForGoal: [],
      discountAsked: way.discountPercent ?? null,
    },
  });
  priced.lines.forEach(({ kind: _, ...line }, place) => {
    world.rows.quoteLines.push({ quoteOptionId: id, position: place, ...line });
  });
}

function answer(
  world: World,
  job: SeedJob,
  { version, optionId }: { readonly version: VersionRow; readonly optionId: string },
  quotedAt: Date,
): Answer {
  const chance = world.chance.next();
  const at = nextOpen(
    world.zone,
    new Date(quotedAt.getTime() + world.chance.between(2, 40) * HOUR),
  );
  if (chance > 1 - SILENT_SHARE || at > world.now) {
    if (new Date(version.validUntil) < world.now) version.state = "EXPIRED";
    return { kind: "waiting", until: nextOpen(world.zone, new Date(version.validUntil)) };
  }
  const accepted = chance < ACCEPTED_SHARE;
  const customer = world.rows.customers.find(({ id }) => id === job.customerId);
  version.state = accepted ? "ACCEPTED" : "DECLINED";
  if (accepted) version.acceptedOptionId = optionId;
  version.answeredAt = at;
  version.answeredName = customer?.name ?? "";
  if (!accepted) version.answerNote = "Thank you, I will leave it as it is.";
  return { kind: accepted ? "accepted" : "declined", at };
}

function pricedPart({ part, plan }: Planned): PricedPart {
  return {
    partId: part.id,
    label: `${part.mark}: ${part.description}`,
    detail: workOf(part),
    quantity: 1,
    areaM2: plan.areaM2,
    runs: plan.dips,
    tankShare: 1,
    hoursP10: plan.hoursP10,
    hoursP50: plan.hoursP50,
    hoursP90: plan.hoursP90,
    sodaG: 5 * plan.solutionL * BATH_SHARE,
    anodeLossG: plan.anodeLossG,
    energyKwh: plan.energyKwh,
    disposalL: plan.solutionL * BATH_SHARE,
  };
}

function promise({ part, plan }: Planned) {
  return {
    partId: part.id,
    mark: part.mark,
    description: part.description,
    quantity: 1,
    work: workOf(part),
    hoursP50: plan.hoursP50,
    hoursP90: plan.hoursP90,
    cautions: [
      "Pits and thin spots under rust only show once it is off; they are not made by the bath.",
    ],
  };
}

function workOf(part: SeedPart): string {
  const aim =
    part.goal === "STRIP_TO_METAL"
      ? "Rust and old paint taken off down to bare metal in a soda bath under low-voltage current."
      : "Rust taken off in a soda bath under low-voltage current.";
  return `${aim} Rinsed, brushed, dried hot and protected against flash rust.`;
}

const planVersions = (planned: readonly Planned[]): Record<string, number> =>
  Object.fromEntries(planned.map(({ part }) => [part.id, 1]));

/** The rates in force on the day of the quote. */
function ratesOn(world: World, at: Date): RateCard {
  const card = [...world.rows.rateCards]
    .reverse()
    .find(({ validFrom }) => new Date(validFrom) <= at);
  if (!card) throw new RangeError("the example shop has no rates on the day of its first quote");
  return { ...card, currency: world.currency };
}
