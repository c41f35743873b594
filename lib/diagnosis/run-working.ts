import { type Standing, type Worked, type WorkedInput } from "@/lib/units";
import type { RunReading } from "./expectation";
import { passedSoFar, pullTime } from "./pull-time";
import { amps, volts } from "./words";

/** Readings shown one by one. */
const LAST_READINGS = 6;
const MS_PER_HOUR = 3_600_000;

/** What a run's charge rests on: its readings, or the planned current where nobody read the meter. */
export type RunSpan = {
  /** in any order; negative ones count as none: what flows the wrong way round cleans nothing */
  readonly readings: readonly RunReading[];
  /** A, > 0 */
  readonly plannedCurrentA: number;
  readonly loadedMs: number;
  /** now, or when it was pulled; not before loading */
  readonly untilMs: number;
};

/**
 * Charge that a run has passed and that did work, with its working.
 *
 * @returns A·h, ≥ 0
 * @throws RangeError if the run ends before it was loaded
 * @example workedCharge({ readings: [], plannedCurrentA: 2, loadedMs: 0, untilMs: 3_600_000 }).value // 2 A·h
 */
export function workedCharge(run: RunSpan): Worked {
  const { readings, plannedCurrentA, loadedMs, untilMs } = run;
  const useful = workingReadings(readings);
  if (useful.length === 0) {
    return {
      name: "charge passed",
      value: (plannedCurrentA * (untilMs - loadedMs)) / MS_PER_HOUR,
      unit: "A·h",
      formula: "Q = I·t",
      inputs: [plannedCurrent(plannedCurrentA), underCurrent(run)],
      standing: "assumption",
      note: "Nobody read the meter yet: the planned current is taken to flow.",
    };
  }
  return {
    name: "charge passed",
    value: passedSoFar(useful, loadedMs, untilMs).chargeAh,
    unit: "A·h",
    formula: "Q = Σ ½(I₁ + I₂)·(t₂ − t₁)",
    inputs: [underCurrent(run), ...readingInputs(run, ({ currentA }) => amps(currentA))],
    standing: "measured here",
    source: "trapezia between the readings of this run",
    note: "The first reading’s current is taken to have flowed since loading, the last one’s until now. What flowed the wrong way round counts as none.",
  };
}

/**
 * Hours until the wanted charge has passed, with their working.
 *
 * @param targetAh A·h wanted, > 0
 * @returns null where no current flows; 0 h once the charge is reached
 * @throws RangeError if a charge is out of its range
 * @example workedHoursLeft(run, 10)?.value // 4 h at 2 A with 2 of 10 A·h passed
 */
export function workedHoursLeft(run: RunSpan, targetAh: number): Worked | null {
  const charge = workedCharge(run);
  const latest = latestOf(workingReadings(run.readings));
  const currentA = latest?.currentA ?? run.plannedCurrentA;
  const pull = pullTime({
    chargeSoFarAh: charge.value,
    targetChargeAh: targetAh,
    currentA,
    atMs: run.untilMs,
  });
  if (pull.kind === "unknown") return null;
  const standing: Standing = latest ? "measured here" : "assumption";
  return {
    name: "hours left",
    value: pull.kind === "at" ? pull.hoursLeft : 0,
    unit: "h",
    formula: "t = (Q_wanted − Q)/I, and 0 once Q_wanted has passed",
    inputs: [
      {
        name: "charge wanted",
        symbol: "Q_wanted",
        value: targetAh,
        unit: "A·h",
        standing: "assumption",
        source: "the plans of the parts in this load",
      },
      { name: "charge passed", symbol: "Q", value: charge.value, unit: "A·h", standing },
      latest
        ? { name: "current of the last reading", symbol: "I", value: currentA, unit: "A", standing }
        : plannedCurrent(currentA),
    ],
    standing: "assumption",
    note: "If the current stays as it is. The part decides: look at it before trusting the sum.",
  };
}

/** The supply of a run, as far as its energy goes. */
export type RunSupply = {
  /** of the wall's energy that reaches the bath, above 0 and at most 1 */
  readonly efficiency: number;
  /** V, for a run without readings */
  readonly openVoltageV: number;
};

/**
 * Energy drawn from the wall, with its working.
 *
 * @returns kW·h, ≥ 0
 * @throws RangeError if the efficiency is out of its range
 * @example workedEnergy(run, { efficiency: 0.75, openVoltageV: 12.6 }).value // kW·h
 */
export function workedEnergy(run: RunSpan, { efficiency, openVoltageV }: RunSupply): Worked {
  if (!(efficiency > 0 && efficiency <= 1)) {
    throw new RangeError(`efficiency must be above 0 and at most 1 (share), got ${efficiency}`);
  }
  const share: WorkedInput = {
    name: "share of the wall’s energy that reaches the bath",
    symbol: "η",
    value: efficiency,
    standing: "entered here",
  };
  const useful = workingReadings(run.readings);
  if (useful.length === 0) {
    const charge = workedCharge(run).value;
    return {
      name: "energy at the wall",
      value: (charge * openVoltageV) / 1000 / efficiency,
      unit: "kW·h",
      formula: "E = Q·U/η",
      inputs: [
        { name: "charge passed", symbol: "Q", value: charge, unit: "A·h", standing: "assumption" },
        {
          name: "open voltage of the supply",
          symbol: "U",
          value: openVoltageV,
          unit: "V",
          standing: "entered here",
        },
        share,
      ],
      standing: "assumption",
      note: "Nobody read the meter: planned current at the supply’s open voltage.",
    };
  }
  return {
    name: "energy at the wall",
    value: passedSoFar(useful, run.loadedMs, run.untilMs).energyKwh / efficiency,
    unit: "kW·h",
    formula: "E = Σ ½(U₁·I₁ + U₂·I₂)·(t₂ − t₁)/η",
    inputs: [
      share,
      ...readingInputs(run, ({ voltsV, currentA }) => `${volts(voltsV)}, ${amps(currentA)}`),
    ],
    standing: "measured here",
    source: "trapezia between the readings of this run",
  };
}

/** Readings with what flowed, or stood, the wrong way round taken as nothing. */
function workingReadings(readings: readonly RunReading[]): readonly RunReading[] {
  return readings.map((reading) => ({
    ...reading,
    currentA: Math.max(0, reading.currentA),
    voltsV: Math.max(0, reading.voltsV),
  }));
}

function latestOf(readings: readonly RunReading[]): RunReading | undefined {
  return [...readings].sort((one, other) => one.atMs - other.atMs).at(-1);
}

const plannedCurrent = (currentA: number): WorkedInput => ({
  name: "planned current",
  symbol: "I",
  value: currentA,
  unit: "A",
  standing: "assumption",
  source: "the operating point of the plans in this load",
});

const underCurrent = ({ loadedMs, untilMs }: RunSpan): WorkedInput => ({
  name: "time under current",
  symbol: "t",
  value: (untilMs - loadedMs) / MS_PER_HOUR,
  unit: "h",
  standing: "measured here",
});

function readingInputs(
  { readings, loadedMs }: RunSpan,
  words: (reading: RunReading) => string,
): WorkedInput[] {
  return [...readings]
    .sort((one, other) => one.atMs - other.atMs)
    .slice(-LAST_READINGS)
    .map((reading) => ({
      name: `reading ${((reading.atMs - loadedMs) / MS_PER_HOUR).toFixed(1)} h after loading`,
      value: words(reading),
      standing: "measured here",
    }));
}
