import type { Worked, WorkedInput } from "@/lib/units";
import { type ByCause, CAUSE_WORDS, CAUSES } from "./causes";
import { likeliest } from "./checks";
import { type Expectation, USUAL_METER_NOISE } from "./expectation";
import type { Posterior, Told } from "./posterior";
import { amps, percent, volts } from "./words";

/** Readings shown one by one; the causes shown, likeliest first. */
const LAST_READINGS = 6;
const SHOWN_CAUSES = 5;
const MS_PER_HOUR = 3_600_000;

/**
 * The likeliest cause's probability with its working: the readings put in, the noise, what was known beforehand, and
 * what each cause would show.
 *
 * @param probability after the checks that were answered
 */
export function workedDiagnosis(
  posterior: Posterior,
  probability: ByCause,
  expected: Expectation,
): Worked {
  const top = likeliest(probability);
  return {
    name: `probability of “${CAUSE_WORDS[top].title}”`,
    value: 100 * probability[top],
    unit: "%",
    formula: "P(cause | readings) = P(cause) · L(readings | cause) / Σ over all causes",
    inputs: [
      ...readingInputs(posterior, expected),
      ...tankInputs(expected),
      ...causeInputs(posterior, probability),
    ],
    standing: "assumption",
    source: "Bayes’ theorem; each cause’s unknowns averaged out by Laplace’s method",
    note: "How often each cause comes and how severe it gets are assumptions. Two things wrong at once are not looked for.",
  };
}

function readingInputs({ weighed }: Posterior, { loadedMs }: Expectation): WorkedInput[] {
  return weighed.slice(-LAST_READINGS).map(({ atMs, voltsV, currentA, temperatureC, levelMm }) => ({
    name: `reading ${((atMs - loadedMs) / MS_PER_HOUR).toFixed(1)} h after loading`,
    value: [
      volts(voltsV),
      amps(currentA),
      ...(temperatureC === null ? [] : [`{${temperatureC.toFixed(0)} °C}`]),
      ...(levelMm === null ? [] : [`level {${levelMm.toFixed(0)} mm}`]),
    ].join(", "),
    standing: "measured here",
  }));
}

function tankInputs(expected: Expectation): WorkedInput[] {
  const { currentLowA, currentHighA, conductivity, bathErrorLog } = expected;
  return [
    {
      name: "noise of one reading",
      value: `${(100 * (expected.meterNoise ?? USUAL_METER_NOISE)).toFixed(0)} %`,
      standing: "common practice",
    },
    {
      name: "planned current",
      value: `${amps(currentLowA)} to ${amps(currentHighA)}`,
      standing: "assumption",
    },
    {
      name: "this tank’s bath resistance, off the plan by about",
      value: `${(100 * bathErrorLog).toFixed(0)} %`,
      standing: "assumption",
      source: "the closed form’s error, narrowed by the tank’s earlier runs",
    },
    {
      name: "charge this bath has passed",
      value: expected.bathChargeAhPerL,
      unit: "A·h/L",
      standing: "measured here",
    },
    ...known("wear of the anode, of what it may lose", expected.anodeWearShare, (share) =>
      percent(share),
    ),
    ...known("under current since the clamps were looked at", expected.clampHours, inHours),
    ...known("under current since the anode was brushed", expected.brushedHours, inHours),
    ...known("measured conductivity over planned", conductivity?.ratio ?? null, (ratio) =>
      ratio.toFixed(2),
    ),
  ];
}

const inHours = (hours: number): string => `${hours.toFixed(0)} h`;

function known(
  name: string,
  value: number | null,
  words: (value: number) => string,
): WorkedInput[] {
  return value === null ? [] : [{ name, value: words(value), standing: "measured here" }];
}

function causeInputs({ prior, told }: Posterior, probability: ByCause): WorkedInput[] {
  return [...CAUSES]
    .sort((one, other) => probability[other] - probability[one])
    .slice(0, SHOWN_CAUSES)
    .map((cause) => ({
      name: CAUSE_WORDS[cause].title,
      value: `${percent(prior[cause])} before, ${percent(probability[cause])} after`,
      standing: "assumption",
      ...shownBy(told.get(cause)),
    }));
}

function shownBy(told: Told | undefined): { readonly source?: string } {
  return told ? { source: `would show ${amps(told.amps)} at ${volts(told.volts)} now` } : {};
}
