/** The example shop's quotes, priced by the shop's own rules, and what the customers said to them. */
import { type PricedPart, type PricedQuote, quoteLines, type RateCard } from "@/lib/pricing";
import { DAY, dayOf, HOUR, nextOpen } from "./calendar";
import type { SeedPlan } from "./planning";
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

/** Writes the quote of a job and the customer's answer, as far as time has come. */
export function quoteJob(
  world: World,
  job: SeedJob,
  planned: readonly Planned[],
  quotedAt: Date,
): Answer {
  const priced = quoteLines(planned.map(pricedPart), ratesOn(world, quotedAt));
  const quoteId = world.chance.uuid();
  const versionId = world.chance.uuid();
  world.rows.quotes.push({
    id: quoteId,
    number: world.rows.quotes.length + 1,
    jobId: job.id,
    createdAt: quotedAt,
  });
  const version: VersionRow = {
    id: versionId,
    quoteId,
    version: 1,
    state: "SENT",
    madeAt: quotedAt,
    sentAt: quotedAt,
    validUntil: dayOf(world.zone, new Date(quotedAt.getTime() + VALID_DAYS * DAY)),
    currency: world.currency,
    terms: "Cleaned, not certified: parts that carry people or pressure need their own inspection.",
  };
  world.rows.quoteVersions.push(version);
  const optionId = addOption(world, versionId, priced, {
    priced,
    promises: planned.map(promise),
    planVersions: planVersions(planned),
  });
  note(world, quotedAt, world.people.deskId, "quote.sent", quoteId);
  return answer(world, job, { version, optionId }, quotedAt);
}

function addOption(
  world: World,
  quoteVersionId: string,
  priced: PricedQuote,
  estimate: object,
): string {
  const id = world.chance.uuid();
  const { netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax } = priced;
  const totals = { netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax };
  const taxes = [...priced.taxes];
  const name = "As planned";
  world.rows.quoteOptions.push({
    id,
    quoteVersionId,
    position: 0,
    name,
    ...totals,
    taxes,
    estimate,
  });
  priced.lines.forEach(({ kind: _, ...line }, position) => {
    world.rows.quoteLines.push({ quoteOptionId: id, position, ...line });
  });
  return id;
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
