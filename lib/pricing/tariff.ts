import { checkNonNegative, checkRange } from "@/lib/units";

/** Energy at its price for some hours of some weekdays. */
export type EnergyBand = {
  /** "night" */
  readonly name: string;
  /** ISO 8601 weekdays, 1 for Monday to 7 for Sunday, on which it begins */
  readonly days: readonly number[];
  /** minutes from midnight, 0 to 1439 */
  readonly fromMinute: number;
  /** minutes from midnight, 1 to 1440; not after `fromMinute` where it ends on the next day */
  readonly toMinute: number;
  /** minor units, which may be a fraction of one */
  readonly perKwhMinor: number;
};

/** What energy costs: at its plain price but for the bands, of which the first that holds is taken. */
export type EnergyTariff = {
  readonly energyPerKwhMinor: number;
  readonly energyBands: readonly EnergyBand[];
};

const DAY = 1440;
const WEEK = 7 * DAY;

/**
 * What a kW·h costs on average over some hours of an even load, by the clock on the wall.
 *
 * @param startMinute minutes since Monday 00:00 at which the load begins, 0 to 10 079; null: the mean of a whole week
 * @param hours       0 or more; parts of a minute count as whole ones
 * @returns minor units a kW·h
 * @throws RangeError if one is out of its range
 * @example energyRate(tariff, 22 * 60, 8) // all night long
 */
export function energyRate(
  tariff: EnergyTariff,
  startMinute: number | null,
  hours: number,
): number {
  if (tariff.energyBands.length === 0) return tariff.energyPerKwhMinor;
  if (startMinute !== null) checkRange("startMinute", startMinute, 0, WEEK - 1, "min of the week");
  checkNonNegative("hours", hours, "h");
  const whole = startMinute === null ? WEEK : Math.max(1, Math.ceil(hours * 60 - 1e-9));
  const first = Math.floor(startMinute ?? 0);
  // Whole weeks cost their mean; what is over is looked at minute by minute.
  const weeks = Math.floor(whole / WEEK);
  const over = whole % WEEK;
  const total = (weeks > 0 ? weeks * costOf(tariff, 0, WEEK) : 0) + costOf(tariff, first, over);
  return total / whole;
}

function costOf(tariff: EnergyTariff, first: number, minutes: number): number {
  let total = 0;
  for (let minute = first; minute < first + minutes; minute += 1) {
    total += rateAt(tariff, minute % WEEK);
  }
  return total;
}

function rateAt({ energyBands, energyPerKwhMinor }: EnergyTariff, minuteOfWeek: number): number {
  return energyBands.find((band) => holds(band, minuteOfWeek))?.perKwhMinor ?? energyPerKwhMinor;
}

function holds({ days, fromMinute, toMinute }: EnergyBand, minuteOfWeek: number): boolean {
  const day = Math.floor(minuteOfWeek / DAY) + 1;
  const minute = minuteOfWeek % DAY;
  if (toMinute > fromMinute) return days.includes(day) && minute >= fromMinute && minute < toMinute;
  const dayBefore = day === 1 ? 7 : day - 1;
  return (
    (days.includes(day) && minute >= fromMinute) || (days.includes(dayBefore) && minute < toMinute)
  );
}

/** @throws RangeError naming the band and the figure that is out of its range */
export function checkTariff({ energyBands }: EnergyTariff): void {
  for (const band of energyBands) {
    if (band.name.trim() === "") throw new RangeError("energyBands: a band has no name");
    const of = (figure: string): string => `${figure} of the band ${band.name}`;
    if (band.days.length === 0) throw new RangeError(`${of("days")} must be at least one`);
    for (const day of band.days) {
      if (!(Number.isInteger(day) && day >= 1 && day <= 7)) {
        throw new RangeError(`${of("day")} must be 1 (Monday) to 7 (Sunday), got ${day}`);
      }
    }
    checkRange(of("start"), band.fromMinute, 0, DAY - 1, "min of the day");
    checkRange(of("end"), band.toMinute, 1, DAY, "min of the day");
    checkNonNegative(of("price"), band.perKwhMinor, "minor units");
  }
}
