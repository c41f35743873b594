import { layeredShapeLength, operatingBand, type OperatingBand } from "@/lib/electrolysis";
import { type Fit, fitPart, highestLevel, levelWithPart, volumeAt } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import type { FieldArrangement, FieldFindings } from "./field-types";
import type { Seen } from "./hours";
import { innerArea } from "./inner-area";
import type { PartDescription, PartSize } from "./part";
import {
  cellOf,
  planBath,
  type PlannedBath,
  type ReadyTank,
  type TankOption,
  withField,
  type Workshop,
} from "./tank-option";

/** A tank that does, worked out as far as the choice between tanks needs. */
export type Candidate = {
  readonly tank: ReadyTank;
  readonly fit: Extract<Fit, { fits: true }>;
  readonly levelMm: number;
  readonly volumeL: number;
  readonly dips: number;
  /** Area under the bath in one dip, m². */
  readonly wetAreaM2: number;
  readonly bath: PlannedBath;
  readonly band: OperatingBand;
  /** The part's sides as the field of this tank has them; none where it was not worked out. */
  readonly seen?: Seen | undefined;
};

/** The tank worked out, or why it does not do. */
export function tryTank(
  tank: TankOption,
  part: PartDescription,
  size: PartSize,
  workshop: Workshop,
): Candidate | string {
  if (!tank.anode) return "No anode hangs in it.";
  if (!tank.supply) return "No supply drives it.";
  if (tank.workingLevelMm > highestLevel(tank.shape)) {
    return "Its working level is above its rim or its highest mark: correct the tank first.";
  }
  const ready: ReadyTank = { ...tank, anode: tank.anode, supply: tank.supply };
  const level = millimetres(tank.workingLevelMm);
  const fit = fitPart(part, tank.shape, level, tank.clearanceMm);
  if (!fit.fits) return fit.words;
  const loaded = levelWithPart(tank.shape, level, size.steelMassG.value);
  if (!loaded.staysIn) return "The bath would run over the rim.";
  const dips = fit.lie.kind === "END_FOR_END" ? fit.lie.dips : 1;
  const volumeL = volumeAt(tank.shape, level);
  const wetAreaM2 = size.areaM2.value / dips;
  const solved = withField(ready, wetAreaM2, volumeL);
  const cell = cellOf(solved, wetAreaM2, volumeL);
  const bath = planBath(solved, cell, volumeL, workshop);
  if (typeof bath === "string") return bath;
  const band = operatingBand({ ...cell, conductivitySPerM: bath.conductivitySPerM });
  if (band.mid.currentA <= 0) return "Its supply has too few volts to start.";
  if (band.mid.trips)
    return "Its supply would switch itself off: this load draws more than its rating.";
  return {
    ...{ tank: solved, fit, levelMm: loaded.levelMm, volumeL, dips, wetAreaM2, bath, band },
    ...(tank.field && { seen: seenBy(tank.field, wetAreaM2, tank.anode.areaM2) }),
  };
}

/** The sides of a part, without and with the best that can be hung inside. */
function seenBy({ planned, innerAnodes }: FieldFindings, areaM2: number, anodeM2: number): Seen {
  const [best] = innerAnodes;
  if (!best) return { spread: planned.spread, withInnerAnode: null };
  const { spread, words, clearanceMm, form } = best;
  // What hangs inside has its scale too, and takes its share of the current through that.
  const length = ({ shapeLengthM }: FieldArrangement, innerM2: number): number =>
    layeredShapeLength(shapeLengthM, areaM2, anodeM2 + innerM2);
  const lengthTimes = length(best, innerArea(form)) / length(planned, 0);
  return { spread: planned.spread, withInnerAnode: { spread, words, clearanceMm, lengthTimes } };
}

/** The same with the best that the field found hung inside: more current flows. As it was where there is no field. */
export function withHung(chosen: Candidate): Candidate {
  const best = chosen.seen?.withInnerAnode;
  if (!best) return chosen;
  const fieldTimes = (chosen.tank.fieldTimes ?? 1) * best.lengthTimes;
  const tank: ReadyTank = { ...chosen.tank, fieldTimes };
  const band = operatingBand({
    ...cellOf(tank, chosen.wetAreaM2, chosen.volumeL),
    conductivitySPerM: chosen.bath.conductivitySPerM,
  });
  return { ...chosen, tank, band, seen: { spread: best.spread, withInnerAnode: best } };
}

/** Lower is better: whole before end for end, within the supply's rating, then the smallest bath. */
export function rank({ fit, band, volumeL }: Candidate): number {
  const turning = fit.lie.kind === "END_FOR_END" ? 1e7 : 0;
  const overloading = band.mid.ratingShare > 1 ? 1e6 : 0;
  const tilted = fit.lie.kind === "TILTED" ? 1e3 : 0;
  return turning + overloading + tilted + volumeL;
}

/** Why a tank that would do is not the plan's. */
export function whyNot(other: Candidate, chosen: Candidate): string {
  if (other.fit.lie.kind === "END_FOR_END") return "Fits only end for end.";
  if (other.band.mid.ratingShare > 1) return "Would draw more than its supply can carry all day.";
  if (other.volumeL > chosen.volumeL) {
    return `Fits, with a larger bath: {${Math.round(other.volumeL)} L} instead of {${Math.round(chosen.volumeL)} L}.`;
  }
  return `Fits: ${other.fit.words}`;
}

/** P90 over P50 of the current: the band is taken as nine in ten either way. */
export function currentSpread(band: OperatingBand): number {
  const { low, high } = band;
  if (low.currentA <= 0) return 2;
  return Math.min(3, Math.sqrt(high.currentA / low.currentA));
}
