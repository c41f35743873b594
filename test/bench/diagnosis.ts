/**
 * `npm run bench:diagnosis`: how often the diagnosis is right on simulated tanks, what it takes for what, and the
 * processor time of one. Measured and printed, never asserted: the time depends on the machine. A board of twenty running
 * tanks asks for twenty.
 */
import { diagnose } from "../../lib/diagnosis";
import {
  afterItsCheck,
  BARE,
  FAULTS,
  first,
  isRight,
  likely,
  saidOf,
  share,
  type Tried,
  tryFaults,
  USUAL,
  WELL_KEPT,
} from "../../lib/diagnosis/simulate-trial";

const EACH = 100;
const BINS = [0, 0.5, 0.7, 0.9, 0.97, 1];

const percent = (part: number): string => `${(100 * part).toFixed(1)} %`;

function tell(name: string, tried: readonly Tried[], sound: readonly Tried[]): void {
  const after = tried.map(afterItsCheck);
  const unsure = share(tried, ({ told }) => told.verdict === "not sure");
  const alarm = share(sound, ({ told }) => told.verdict !== "as expected");
  console.log(`\n${name}, ${tried.length} runs with a fault, ${sound.length} without`);
  console.log(`  first-ranked right ${percent(share(tried, isRight))}`);
  console.log(
    `  likely ${percent(share(tried, likely))}, of these right ${percent(share(tried.filter(likely), isRight))}`,
  );
  console.log(`  not sure ${percent(unsure)}; false alarms ${percent(alarm)}`);
  console.log(`  right after the one check asked for ${percent(share(after, isRight))}`);
  for (const fault of FAULTS) {
    const told = new Map<string, number>();
    for (const one of tried.filter(({ run }) => run.fault === fault)) {
      const name = first(one) ?? "nothing";
      told.set(name, (told.get(name) ?? 0) + 1);
    }
    const most = [...told].sort(([, one], [, other]) => other - one);
    console.log(
      `  ${fault.padEnd(14)} ${most.map(([cause, count]) => `${cause} ${count}`).join(", ")}`,
    );
  }
  BINS.slice(1).forEach((until, index) => {
    const from = BINS[index] ?? 0;
    const within = tried.filter(
      (one) => first(one) !== "AS_IT_SHOULD" && saidOf(one) >= from && saidOf(one) < until,
    );
    const said = within.reduce((sum, one) => sum + saidOf(one), 0) / within.length;
    console.log(
      `  said ${percent(said)}: right ${percent(share(within, isRight))} of ${within.length}`,
    );
  });
}

function time(tried: readonly Tried[]): void {
  const times = tried.map(({ run }) => {
    const before = process.cpuUsage();
    diagnose(run.readings, run.expected);
    return process.cpuUsage(before).user / 1000;
  });
  times.sort((one, other) => one - other);
  const percentile = (part: number): string =>
    (times[Math.ceil(part * times.length) - 1] ?? Number.NaN).toFixed(1);
  console.log(
    `\ndiagnosis of one run: median ${percentile(0.5)} ms, p95 ${percentile(0.95)} ms of processor time`,
  );
}

const SOUND = ["AS_IT_SHOULD"] as const;
for (const [name, records] of [
  ["well kept", WELL_KEPT],
  ["usual records", USUAL],
  ["volts and amps alone", BARE],
] as const) {
  tell(name, tryFaults(FAULTS, EACH, records), tryFaults(SOUND, 4 * EACH, records));
}
time(tryFaults(FAULTS, EACH / 2, USUAL));
