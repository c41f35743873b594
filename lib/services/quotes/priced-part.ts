import type { QuotablePart, ShopRow } from "@/lib/data";
import type { PricedPart } from "@/lib/pricing";
import { bathShare } from "../bath-share";
import { minuteOfWeek } from "../calendar";
import { promiseFor } from "./promise";

/**
 * A planned part as pricing takes it. Pieces of one part go into the bath together: area, steel, energy and bath count
 * for each piece, loading and hours once.
 *
 * The bath itself is shared with every other load of its life, so the part bears its salt and disposal by the charge
 * it takes (see bathShare), not a whole fresh mix.
 */
export function pricedPart(
  part: QuotablePart,
  { unitSystem, timeZone }: Pick<ShopRow, "unitSystem" | "timeZone">,
): PricedPart {
  const { plan, quantity, bookedFrom } = part;
  if (!plan) throw new RangeError(`part ${part.mark} has no plan to price`);
  const promise = promiseFor(part, unitSystem);
  const share = bathShare(plan.chargeAh * quantity, plan.solutionL);
  return {
    partId: part.id,
    label: `${part.mark}: ${quantity > 1 ? `${quantity} × ` : ""}${part.description}`,
    detail: promise.work,
    quantity,
    areaM2: plan.areaM2 * quantity,
    runs: plan.dipCount,
    tankShare: 1,
    hoursP10: plan.result.hours.p10,
    hoursP50: plan.hoursP50,
    hoursP90: plan.hoursP90,
    sodaG: bathSaltG(part) * share,
    anodeLossG: plan.anodeLossG * quantity,
    energyKwh: plan.energyKwh * quantity,
    disposalL: plan.solutionL * share,
    // What is booked is priced at the tariff of its hours.
    ...(bookedFrom && { startMinute: minuteOfWeek(bookedFrom, timeZone) }),
  };
}

/** Usual strength of a bath whose own salt is not known, g/L: 80 to 120 mL of powder in 20 L, common practice. */
const USUAL_SALT_G_PER_L = 5;

/** Salt that the whole bath holds, g: a fresh mix as planned, else the usual dose. */
function bathSaltG({ plan }: QuotablePart): number {
  if (!plan) return 0;
  const usual = USUAL_SALT_G_PER_L * plan.solutionL;
  return plan.result.freshMix ? plan.saltG : Math.max(plan.saltG, usual);
}
