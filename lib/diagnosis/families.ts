import { ANODE, type Cell } from "@/lib/electrolysis";
import { bathOhm, type Curve, pointOn, seriesCurve, seriesOhm, touchCurve } from "./curve";
import type { Family, Predicted, SideView, Unknown } from "./evidence";
import type { Expectation } from "./expectation";

/** What is known of a reading beside volts and amps. */
export type Circumstance = {
  /** since loading, h */
  readonly hours: number;
  /** conductivity over what it is at the bath's planned temperature */
  readonly warmth: number;
  /** measured level over the working level; 1 where it was not measured */
  readonly levelShare: number;
};

/** The tank as every family sees it: its curves are worked out once for all of them. */
export type Model = {
  readonly cell: Cell;
  readonly readings: readonly Circumstance[];
  readonly levelMeasured: boolean;
  readonly passive: Curve;
  readonly active: Curve;
  readonly touch: Curve;
  /** Ω as they should be: the bath's, what stands in series with it, and both */
  readonly bathOhm: number;
  readonly fixedOhm: number;
  readonly wholeOhm: number;
  /** by which ln of the bath's resistance is off when all is well */
  readonly x: Unknown;
  readonly conductivity: Expectation["conductivity"];
};

export function modelOf(
  expected: Expectation,
  readings: readonly Circumstance[],
  levelMeasured: boolean,
): Model {
  const { cell } = expected;
  return {
    cell,
    readings,
    levelMeasured,
    passive: seriesCurve(cell, ANODE.PASSIVE),
    active: seriesCurve(cell, ANODE.ACTIVE),
    touch: touchCurve(cell, ANODE.PASSIVE),
    bathOhm: bathOhm(cell),
    fixedOhm: cell.leadOhm + cell.contactOhm,
    wholeOhm: seriesOhm(cell),
    x: { mean: 0, deviation: expected.bathErrorLog },
    conductivity: expected.conductivity,
  };
}

/** Hours from the first reading's loading to the last reading; half an hour at least. */
export const spanOf = ({ readings }: Model): number => Math.max(0.5, readings.at(-1)?.hours ?? 0);

/** Share of the anode's charge that dissolves iron, by hour: 0 passive, 1 active. */
export type AnodeState = (hours: number) => number;
export type LikelyAnode = { readonly share: number; readonly state: AnodeState };

/** Hours in which a bright anode settles: assumption. */
const SETTLING_HOURS = 1.5;

/** How a sound anode may behave, and how often: assumption. */
export function soundAnodes({ cell }: Model): readonly LikelyAnode[] {
  return [
    { share: 0.3, state: () => 0 },
    { share: 0.35, state: () => cell.dissolvingShare },
    { share: 0.15, state: () => 1 },
    { share: 0.2, state: (hours) => Math.exp(-hours / SETTLING_HOURS) },
  ];
}

/** The two that differ most over time: enough where the fault itself changes over time. */
export function fewAnodes({ cell }: Model): readonly LikelyAnode[] {
  const { dissolvingShare } = cell;
  return [
    { share: 0.6, state: () => dissolvingShare / 2 },
    { share: 0.4, state: (hours) => dissolvingShare * Math.exp(-hours / SETTLING_HOURS) },
  ];
}

/** Something known beforehand: it has no bell. */
export const KNOWN: Unknown = { mean: 0, deviation: 0 };

/** How a fault raises the resistance, as shares that e^s multiplies. */
export type Growth = {
  /** of the bath's own resistance */
  readonly bath?: (at: Circumstance) => number;
  /** of the whole resistance, in series with it */
  readonly series?: (at: Circumstance) => number;
  /** standard deviation of ln of the series resistance from one reading to the next */
  readonly flicker?: number;
};

const NOTHING = (): number => 0;

/**
 * A family whose fault is a resistance in series with the electrodes:
 *
 *   R = R_bath·e^x·(1 + bath·e^s)/(warmth·level) + R_leads + R_contacts + R_whole·series·e^s
 */
export function seriesFamily(
  model: Model,
  state: AnodeState,
  s: Unknown,
  { bath = NOTHING, series = NOTHING, flicker = 0 }: Growth,
): Family {
  const readings = model.readings.map((at) => ({
    bathOhm: model.bathOhm / (at.warmth * at.levelShare),
    bath: bath(at),
    seriesOhm: model.wholeOhm * series(at),
    dissolving: state(at.hours),
  }));
  return {
    x: model.x,
    s,
    predict: (x, severity) => {
      const off = Math.exp(x);
      const grown = Math.exp(severity);
      return readings.map((at) => {
        const soundOhm = at.bathOhm * off;
        const bathOhmNow = soundOhm * (1 + at.bath * grown);
        const addedOhm = at.seriesOhm * grown;
        const ohm = bathOhmNow + model.fixedOhm + addedOhm;
        return shown(model, at.dissolving, Math.log(ohm), {
          byX: bathOhmNow / ohm,
          byS: (soundOhm * at.bath * grown + addedOhm) / ohm,
          flicker: flicker * (addedOhm / ohm),
        });
      });
    },
  };
}

type Slopes = { readonly byX: number; readonly byS: number; readonly flicker: number };

/** Between the passive and the active curve, with the slopes carried from ln Ω to x and s. */
function shown(model: Model, dissolving: number, lnOhm: number, slopes: Slopes): Predicted {
  const still = pointOn(model.passive, lnOhm);
  const busy = dissolving === 0 ? still : pointOn(model.active, lnOhm);
  const slopeAmps = still.slopeAmps + dissolving * (busy.slopeAmps - still.slopeAmps);
  const slopeVolts = still.slopeVolts + dissolving * (busy.slopeVolts - still.slopeVolts);
  return {
    lnAmps: still.lnAmps + dissolving * (busy.lnAmps - still.lnAmps),
    lnVolts: still.lnVolts + dissolving * (busy.lnVolts - still.lnVolts),
    ampsByX: slopeAmps * slopes.byX,
    ampsByS: slopeAmps * slopes.byS,
    voltsByX: slopeVolts * slopes.byX,
    voltsByS: slopeVolts * slopes.byS,
    flickerAmps: (slopeAmps * slopes.flicker) ** 2,
    flickerVolts: (slopeVolts * slopes.flicker) ** 2,
  };
}

/** A measured conductivity, as a family with ln(κ over planned) = `predict(s)` sees it. */
export function sideView(
  measured: Model["conductivity"],
  predict: SideView["predict"],
): SideView | undefined {
  if (measured === null) return undefined;
  return { seen: Math.log(measured.ratio), variance: measured.errorShare ** 2, predict };
}

/** A measured conductivity where the fault leaves the bath as it was mixed. */
export function bathAsMixed({ conductivity }: Model): SideView | undefined {
  return sideView(conductivity, () => ({ value: 0, byS: 0 }));
}

/** Times at which something may have begun: before the first reading, or between two, by the hours between them. */
export function onsets(
  { readings }: Model,
  beforeShare: number,
): readonly { readonly share: number; readonly hour: number }[] {
  const hours = readings.map((at) => at.hours);
  const total = (hours.at(-1) ?? 0) - (hours[0] ?? 0);
  if (total <= 0) return [{ share: 1, hour: Number.NEGATIVE_INFINITY }];
  const between = hours.slice(1).map((hour, index) => {
    const before = hours[index] ?? hour;
    return { share: ((1 - beforeShare) * (hour - before)) / total, hour: (before + hour) / 2 };
  });
  return [
    { share: beforeShare, hour: Number.NEGATIVE_INFINITY },
    ...between.filter(({ share }) => share > 0),
  ];
}
