import {
  bathConductivity,
  type BathContents,
  operatingBand,
  SALT_GRADE_FACTS,
  saltPerLitre,
  strongestBathMass,
  strongestDose,
  type Supply,
  usualDose,
  workedBathHeat,
  workedConductivity,
  workedHydrogen,
  workedOperatingPoint,
  workedVentilation,
} from "@/lib/electrolysis";
import {
  ampereHours,
  amperes,
  celsius,
  checkPositive,
  checkRange,
  litres,
  massPercent,
  volts,
  type Worked,
} from "@/lib/units";
import { type Candidate, currentSpread, tryTank, withHung } from "./candidate";
import { workedDensity } from "./figures";
import {
  densities,
  type Hollow,
  type HoursRange,
  sideHours,
  slowerSide,
  stretched,
  withInnerAnode,
  workedHours,
} from "./hours";
import { type HoursLearned, workedLearnedHours } from "./learned";
import { type PartDescription, sizePart } from "./part";
import { cellOf, cellOrigin, type TankOption, type Workshop } from "./tank-option";
import { planWarnings } from "./warnings";

/** A part in a tank as planned, from which other settings are tried: plain data, so that a browser can hold it. */
export type WhatIfStart = {
  readonly part: PartDescription;
  readonly hollow: Hollow;
  readonly chosen: Candidate;
  readonly workshop: Workshop;
  /** What the shop's runs make of the model's hours, percentile by percentile; null where none tells. */
  readonly learned: {
    readonly runs: number;
    readonly pooled: number;
    readonly times: HoursRange;
  } | null;
  /** Whether the plan has an anode hung inside. */
  readonly innerAnode?: boolean;
};

/** What a person may change. */
export type WhatIfSettings = {
  /** Anhydrous salt in the bath, g/L, > 0. */
  readonly doseGPerL: number;
  /** Of the bath, °C, 0 to 50. */
  readonly temperatureC: number;
  /** Between part and anode, mm, > 0. */
  readonly distanceMm: number;
  /** Facing the bath, m², > 0. */
  readonly anodeAreaM2: number;
  readonly supply: Supply;
  /** Alike pieces in the load, 1 and up. */
  readonly pieces: number;
  readonly innerAnode: boolean;
};

/** What a load would do with such settings. */
export type Outlook = {
  readonly current: Worked;
  /** in the bath, all dips together */
  readonly hours: HoursRange;
  /** current, density, hours, conductivity, hydrogen an hour, fresh air and heat, each with its working */
  readonly figures: readonly Worked[];
  readonly warnings: readonly string[];
  /** Strongest bath that the supply carries all day and the part takes, g/L of anhydrous salt. */
  readonly strongestGPerL: number;
  /** The trade's usual dose for the grade, g/L of anhydrous salt: common practice, no source. */
  readonly usualGPerL: { readonly low: number; readonly high: number };
};

/**
 * Where trying begins: the part in this tank, as the plan has it.
 * @param learned    what the shop's runs say of parts like this one
 * @param innerAnode whether the plan has an anode hung inside
 * @returns the start, or in words why the tank does not take the part
 * @throws RangeError naming a measure that is out of range
 */
export function startWhatIf(
  part: PartDescription,
  tank: TankOption,
  workshop: Workshop,
  learned?: HoursLearned,
  innerAnode = false,
): WhatIfStart | string {
  const size = sizePart(part);
  const chosen = tryTank(tank, part, size, workshop);
  if (typeof chosen === "string") return chosen;
  const { insideShare, insideLag } = size;
  const hollow = { insideShare, insideLag, seen: chosen.seen };
  const start = { part, hollow, chosen, workshop, innerAnode, learned: null };
  if (!learned) return start;
  const model = outlook(start, plannedSettings(start)).hours;
  const { runs, pooled } = learned;
  return { ...start, learned: { runs, pooled, times: over(learned.range(model), model) } };
}

const over = (a: HoursRange, b: HoursRange): HoursRange => ({
  p10: a.p10 / b.p10,
  p50: a.p50 / b.p50,
  p90: a.p90 / b.p90,
});
const multiplied = (a: HoursRange, b: HoursRange): HoursRange => ({
  p10: a.p10 * b.p10,
  p50: a.p50 * b.p50,
  p90: a.p90 * b.p90,
});

/** The plan's own settings. */
export function plannedSettings({
  chosen,
  workshop,
  innerAnode = false,
}: WhatIfStart): WhatIfSettings {
  const { contents } = chosen.bath;
  return {
    doseGPerL: saltMassG(contents) / contents.volumeL,
    temperatureC: workshop.temperatureC,
    distanceMm: chosen.tank.clearanceMm,
    anodeAreaM2: chosen.tank.anode.areaM2,
    supply: chosen.tank.supply,
    pieces: 1,
    innerAnode,
  };
}

/**
 * The most salt a litre that dissolves at this temperature and is in the tables, in the bath's own proportion.
 * @returns g/L of anhydrous salt
 * @throws RangeError if the temperature is outside 0 to 50 °C
 */
export function mostDose({ chosen, workshop }: WhatIfStart, temperatureC: number): number {
  const contents = ofSomeSalt(chosen.bath.contents, workshop);
  return strongestBathMass({ ...contents, temperatureC }) / contents.volumeL;
}

/**
 * What the load would do with other settings: the plan's own models, worked again.
 *
 * @throws RangeError naming the setting that is out of range
 * @example outlook(start, { ...plannedSettings(start), doseGPerL: 6 }).current.value // A
 */
export function outlook(start: WhatIfStart, settings: WhatIfSettings): Outlook {
  const { part, workshop } = start;
  checkRange("pieces", settings.pieces, 1, 999, "pieces");
  checkPositive("distance between part and anode", settings.distanceMm, "mm");
  const there: Workshop = { ...workshop, temperatureC: settings.temperatureC };
  const chosen = retry(start, settings);
  const { band, wetAreaM2, bath, tank } = chosen;
  const cell = cellOf(tank, wetAreaM2, chosen.volumeL);
  const { salt } = SALT_GRADE_FACTS[workshop.saltGrade];
  const strongest = strongestDose(cell, salt, celsius(settings.temperatureC));
  const current = workedOperatingPoint(
    { ...cell, conductivitySPerM: bath.conductivitySPerM },
    cellOrigin(tank),
  );
  const hours = hoursOf(start, chosen, settings.innerAnode);
  return {
    current,
    hours: hours.range,
    figures: [
      hours.worked,
      current,
      workedDensity(band.mid.currentA, wetAreaM2),
      workedConductivity(bath.contents),
      {
        ...workedHydrogen(ampereHours(band.mid.currentA), celsius(settings.temperatureC)),
        name: "hydrogen an hour",
        unit: "L/h",
      },
      workedVentilation(amperes(band.high.currentA)),
      workedBathHeat(amperes(band.mid.currentA), volts(band.mid.cellVoltageV)),
    ],
    warnings: planWarnings({
      part: { ...part, quantity: 1 },
      chosen,
      workshop: there,
      hours: hours.range,
    }),
    strongestGPerL: saltPerLitre(salt, massPercent(strongest.strength)),
    usualGPerL: usualStrength(workshop),
  };
}

function hoursOf(
  { part, hollow, learned }: WhatIfStart,
  { band, wetAreaM2, dips }: Candidate,
  innerAnode: boolean,
): { readonly range: HoursRange; readonly worked: Worked } {
  const seen = innerAnode ? withInnerAnode(hollow) : hollow;
  const spread = currentSpread(band);
  const { currentA } = band.mid;
  const sides = sideHours(part, currentA, wetAreaM2, seen, spread);
  const model = stretched(sides.worst, dips);
  const slower = slowerSide(seen, densities(currentA, wetAreaM2, seen));
  const lag = dips * slower.lag;
  const worked = workedHours("hours in the bath", part, slower.density, spread, lag);
  if (!learned) return { range: model, worked };
  const range = multiplied(model, learned.times);
  const { runs, pooled } = learned;
  return { range, worked: workedLearnedHours(worked, model, range, { runs, pooled }) };
}

/** The candidate with what was changed worked through it. */
function retry({ chosen, workshop }: WhatIfStart, settings: WhatIfSettings): Candidate {
  const tank = {
    ...chosen.tank,
    clearanceMm: settings.distanceMm,
    supply: settings.supply,
    anode: { ...chosen.tank.anode, areaM2: settings.anodeAreaM2 },
  };
  const planned = ofSomeSalt(chosen.bath.contents, workshop);
  const times = (settings.doseGPerL * planned.volumeL) / saltMassG(planned);
  const contents: BathContents = {
    volumeL: planned.volumeL,
    temperatureC: settings.temperatureC,
    carbonateMassG: planned.carbonateMassG * times,
    bicarbonateMassG: planned.bicarbonateMassG * times,
  };
  const conductivitySPerM = bathConductivity(contents);
  const wetAreaM2 = chosen.wetAreaM2 * settings.pieces;
  const band = operatingBand({ ...cellOf(tank, wetAreaM2, chosen.volumeL), conductivitySPerM });
  const tried: Candidate = {
    ...chosen,
    tank,
    wetAreaM2,
    band,
    // What is missing is said beside the plan; here the dose is the person's own.
    bath: { ...chosen.bath, contents, conductivitySPerM, waterToAddL: 0, saltToAddG: 0 },
  };
  return settings.innerAnode ? withHung(tried) : tried;
}

const saltMassG = ({ carbonateMassG, bicarbonateMassG }: BathContents): number =>
  carbonateMassG + bicarbonateMassG;

/** A bath whose proportion of salts is known: plain water counts as holding a trace of the shop's grade. */
function ofSomeSalt(contents: BathContents, workshop: Workshop): BathContents {
  if (saltMassG(contents) > 0) return contents;
  return SALT_GRADE_FACTS[workshop.saltGrade].salt === "SODIUM_CARBONATE"
    ? { ...contents, carbonateMassG: 1 }
    : { ...contents, bicarbonateMassG: 1 };
}

function usualStrength({ saltGrade }: Workshop): Outlook["usualGPerL"] {
  const { lowMl, highMl } = usualDose(litres(1));
  const { bulkDensityGPerMl, anhydrousFraction } = SALT_GRADE_FACTS[saltGrade];
  const gramsPerMl = bulkDensityGPerMl * anhydrousFraction;
  return { low: lowMl * gramsPerMl, high: highMl * gramsPerMl };
}
