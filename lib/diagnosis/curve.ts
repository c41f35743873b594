import { type AnodeKinetics, type Cell, openVoltage, operatingPoint } from "@/lib/electrolysis";
import { innerResistance, currentLimit } from "@/lib/electrolysis";

/** What a meter shows along one parameter: ln amps and ln volts at evenly spaced places. */
export type Curve = {
  readonly from: number;
  readonly step: number;
  readonly lnAmps: Float64Array;
  readonly lnVolts: Float64Array;
};

/** A place on a curve, with its slopes. */
export type CurvePoint = {
  readonly lnAmps: number;
  readonly slopeAmps: number;
  readonly lnVolts: number;
  readonly slopeVolts: number;
};

/** Below these a meter shows nothing, so that no model need tell 1 mA from 0. */
export const LEAST_SHOWN = { amps: 0.05, volts: 0.3 } as const;

export const lnAmps = (amps: number): number => Math.log(Math.max(amps, LEAST_SHOWN.amps));
export const lnVolts = (volts: number): number => Math.log(Math.max(volts, LEAST_SHOWN.volts));

function curveOf(
  from: number,
  until: number,
  points: number,
  shown: (place: number) => { readonly amps: number; readonly volts: number },
): Curve {
  const step = (until - from) / (points - 1);
  const amps = new Float64Array(points);
  const volts = new Float64Array(points);
  for (let index = 0; index < points; index += 1) {
    const point = shown(from + index * step);
    amps[index] = lnAmps(point.amps);
    volts[index] = lnVolts(point.volts);
  }
  return { from, step, lnAmps: amps, lnVolts: volts };
}

/** Straight between the points; beyond the ends as at the end, with the end's slope. */
export function pointOn(curve: Curve, place: number): CurvePoint {
  const last = curve.lnAmps.length - 2;
  const steps = (place - curve.from) / curve.step;
  const index = Math.min(last, Math.max(0, Math.floor(steps)));
  const share = Math.min(1, Math.max(0, steps - index));
  const amps = curve.lnAmps[index] ?? 0;
  const volts = curve.lnVolts[index] ?? 0;
  const riseAmps = (curve.lnAmps[index + 1] ?? 0) - amps;
  const riseVolts = (curve.lnVolts[index + 1] ?? 0) - volts;
  return {
    lnAmps: amps + share * riseAmps,
    slopeAmps: riseAmps / curve.step,
    lnVolts: volts + share * riseVolts,
    slopeVolts: riseVolts / curve.step,
  };
}

const SERIES_POINTS = 90;

/**
 * The meter along ln(Ω in series with the electrodes): bath, leads and contacts together, whatever raised them. From a
 * thirtieth to three hundred times of what it should be.
 */
export function seriesCurve(cell: Cell, anode: AnodeKinetics): Curve {
  const usual = Math.log(seriesOhm(cell));
  return curveOf(usual - 3.4, usual + 5.7, SERIES_POINTS, (lnOhm) => {
    const point = operatingPoint(
      { ...cell, conductivitySPerM: 1, shapeLengthM: 1e9, leadOhm: 0, contactOhm: Math.exp(lnOhm) },
      anode,
    );
    return { amps: point.currentA, volts: point.terminalVoltageV };
  });
}

/** Ω of bath, leads and contacts as they should be. */
export function seriesOhm(cell: Cell): number {
  return bathOhm(cell) + cell.leadOhm + cell.contactOhm;
}

export function bathOhm(cell: Cell): number {
  return 1 / (cell.conductivitySPerM * cell.shapeLengthM);
}

const TOUCH_POINTS = 40;

/**
 * The meter along the depth of a touch: logit of the share by which it pulls down the volts between part and anode.
 * At those volts the bath takes what it takes, and the touch the rest of what the supply drives through the leads.
 */
export function touchCurve(cell: Cell, anode: AnodeKinetics): Curve {
  const { supply } = cell;
  const outsideOhm = cell.leadOhm + cell.contactOhm + innerResistance(supply);
  const untouchedV = operatingPoint(cell, anode).cellVoltageV;
  return curveOf(-2.5, 5, TOUCH_POINTS, (logit) => {
    const acrossV = untouchedV / (1 + Math.exp(logit));
    const driven = (openVoltage(supply) - acrossV) / Math.max(outsideOhm, 1e-4);
    const amps = Math.min(driven, currentLimit(supply));
    return { amps, volts: acrossV + amps * (cell.leadOhm + cell.contactOhm) };
  });
}
