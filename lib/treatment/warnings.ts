import {
  coldestDissolved,
  continuousRating,
  leadAmpacity,
  operatingBand,
  PART_DENSITY,
  supplyHours,
} from "@/lib/electrolysis";
import { amperes, squareMillimetres } from "@/lib/units";
import type { Candidate } from "./candidate";
import type { HoursRange } from "./hours";
import type { PartDescription } from "./part";
import { cellOf, type Workshop } from "./tank-option";

export type WarningContext = {
  readonly part: PartDescription;
  readonly chosen: Candidate;
  readonly workshop: Workshop;
  readonly hours: HoursRange;
};

/** Says one thing that a person should know before this plan is run, or nothing. */
type Watch = (context: WarningContext) => string | null;

/** What to look out for in a plan, in sentences; empty when nothing stands out. */
export function planWarnings(context: WarningContext): string[] {
  return WATCHES.map((watch) => watch(context)).filter((words) => words !== null);
}

const overload: Watch = ({ chosen: { band } }) => {
  const { high, mid } = band;
  if (mid.ratingShare > 1) {
    return `The supply would run at ${Math.round(mid.ratingShare * 100)} % of what it can carry all day: dilute the bath or shade the anode.`;
  }
  if (high.trips) {
    return "With a fresh bright anode the supply may switch itself off: begin with less salt, and read the meter in the first half hour.";
  }
  return high.ratingShare > 1
    ? "With a fresh bright anode the supply may be overloaded at first: read the meter in the first half hour."
    : null;
};

const tooHard: Watch = ({ chosen: { band } }) =>
  band.mid.partDensityAPerM2 > PART_DENSITY.most
    ? `More than {${PART_DENSITY.most} A/m²} on the part: mostly gas. A weaker bath does as well.`
    : null;

const tooSoft: Watch = ({ chosen: { band } }) =>
  band.mid.partDensityAPerM2 < PART_DENSITY.least
    ? `Less than {${PART_DENSITY.least} A/m²} on the part: it will take very long. Check salt, leads and distance.`
    : null;

const battery: Watch = ({ chosen: { tank, band }, hours }) => {
  const lasts = supplyHours(tank.supply, amperes(band.mid.currentA));
  return lasts < hours.p90
    ? `The battery gives this current for about ${lasts.toFixed(1)} h, and the part may need ${hours.p90.toFixed(1)} h: have a charged one ready.`
    : null;
};

const thinLead: Watch = ({ chosen: { tank, band } }) => {
  const carries = leadAmpacity(squareMillimetres(tank.leadAreaMm2));
  return band.high.currentA > carries
    ? `The leads of {${tank.leadAreaMm2} mm²} are thin for ${band.high.currentA.toFixed(0)} A for hours (NEC table 310.16, 60 °C column, from memory: ${carries} A). Take thicker ones; local codes decide.`
    : null;
};

const cold: Watch = ({ chosen: { bath }, workshop }) => {
  const coldest = coldestDissolved(bath.contents);
  if (coldest !== null) {
    return `This bath drops crystals below {${coldest.toFixed(0)} °C}: keep the workshop warmer overnight, or mix it weaker.`;
  }
  return workshop.temperatureC < 5 ? "A cold bath conducts badly: reckon with longer hours." : null;
};

const low: Watch = ({ chosen: { bath } }) =>
  bath.waterToAddL >= 1
    ? `The bath stands low: fill up with about {${Math.round(bath.waterToAddL)} L} of plain water before loading.`
    : null;

const weak: Watch = ({ chosen: { bath } }) =>
  bath.saltToAddG > 0 && !bath.freshMix
    ? `The bath is weak: add {${Math.round(bath.saltToAddG)} g} before loading.`
    : null;

/** Pieces hung together share the bath but ask for more current than one. */
const together: Watch = ({ part, chosen: { tank, wetAreaM2, volumeL, bath } }) => {
  const pieces = part.quantity;
  if (pieces <= 1) return null;
  const cell = cellOf(tank, wetAreaM2 * pieces, volumeL);
  const { mid } = operatingBand({ ...cell, conductivitySPerM: bath.conductivitySPerM });
  const over = mid.ratingShare > 1 ? " That is more than the supply can carry all day." : "";
  return `Planned for one piece. All ${pieces} in one load draw about ${mid.currentA.toFixed(1)} A of the supply's ${continuousRating(tank.supply).toFixed(1)} A, and take longer.${over}`;
};

const WATCHES: readonly Watch[] = [
  overload,
  tooHard,
  tooSoft,
  battery,
  thinLead,
  cold,
  low,
  weak,
  together,
];
