import { openVoltage } from "@/lib/electrolysis";
import type { Cause } from "./causes";
import { lnAmps, lnVolts, pointOn } from "./curve";
import type { Family, Predicted, Unknown } from "./evidence";
import {
  bathAsMixed,
  type Circumstance,
  fewAnodes,
  type Growth,
  KNOWN,
  type Model,
  onsets,
  seriesFamily,
  sideView,
  soundAnodes,
  spanOf,
} from "./families";

/*
 * What each cause does to a tank over time. The shares, the severities and their spreads are assumptions, wide on
 * purpose; simulated tanks of other shapes and severities try them (see the tests).
 */

/** One way in which a cause may come about, and its share of that cause. */
export type Way = { readonly cause: Cause; readonly share: number; readonly family: Family };

type LikelyGrowth = Growth & { readonly share: number };

/** Every way of every cause that the readings are weighed under; the shares of one cause add up to 1. */
export function waysOf(model: Model): readonly Way[] {
  return [
    ...grown(model, "AS_IT_SHOULD", KNOWN, [{ share: 1 }]),
    ...weak(model),
    ...strong(model),
    ...spent(model),
    ...grown(model, "ANODE_WORN", { mean: -0.4, deviation: 0.8 }, [{ share: 1, bath: () => 1 }]),
    ...levelFallen(model),
    ...passivated(model),
    ...corroded(model),
    ...poorContact(model),
    ...touching(model),
    ...nothingFlows(model),
  ];
}

/** A cause whose growths may each meet each sound anode. */
function grown(
  model: Model,
  cause: Cause,
  s: Unknown,
  growths: readonly LikelyGrowth[],
  anodes = soundAnodes(model),
): Way[] {
  const sideways = bathAsMixed(model);
  return anodes.flatMap(({ share, state }) =>
    growths.map((growth) => ({
      cause,
      share: share * growth.share,
      family: { ...seriesFamily(model, state, s, growth), sideways },
    })),
  );
}

/** κ over what was planned is 1/(1 + e^s): about half. */
function weak(model: Model): Way[] {
  const sideways = sideView(model.conductivity, (s) => {
    const lost = Math.exp(s);
    return { value: -Math.log(1 + lost), byS: -lost / (1 + lost) };
  });
  const growth: LikelyGrowth = { share: 1, bath: () => 1 };
  return grown(model, "BATH_WEAK", { mean: 0, deviation: 0.8 }, [growth]).map((way) => ({
    ...way,
    family: { ...way.family, sideways },
  }));
}

/** κ over what was planned is 1 + e^s: about two, which is the sound bath at x − ln(1 + e^s). */
function strong(model: Model): Way[] {
  const sideways = sideView(model.conductivity, (s) => {
    const more = Math.exp(s);
    return { value: Math.log(1 + more), byS: more / (1 + more) };
  });
  return grown(model, "BATH_STRONG", KNOWN, [{ share: 1 }]).map((way) => ({
    ...way,
    family: {
      ...way.family,
      s: { mean: -0.2, deviation: 0.8 },
      sideways,
      predict: (x, s) => {
        const more = Math.exp(s);
        const byS = -more / (1 + more);
        return way.family
          .predict(x - Math.log(1 + more), 0)
          .map((told) => ({ ...told, ampsByS: told.ampsByX * byS, voltsByS: told.voltsByX * byS }));
      },
    },
  }));
}

/** A film of sludge and carbonate on the electrodes, there from the start or still growing. */
function spent(model: Model): Way[] {
  return grown(model, "BATH_SPENT", { mean: -0.3, deviation: 0.8 }, [
    { share: 0.7, series: () => 1 },
    { share: 0.3, series: ({ hours }) => 0.7 + hours / 10 },
  ]);
}

/** When a leak begins, over the span of the readings, and the share of the level that is left at their end. */
const LEAK_STARTS = [0, 0.4];
const LEVELS_LEFT = [0.8, 0.4];

/** A measured level is in every family's bath already; one that was not measured may have fallen at any time. */
function levelFallen(model: Model): Way[] {
  if (model.levelMeasured) return grown(model, "LEVEL_FALLEN", KNOWN, [{ share: 1 }]);
  const span = spanOf(model);
  const leaks = LEAK_STARTS.flatMap((start) =>
    LEVELS_LEFT.map((left) => ({
      share: 0.6 / (LEAK_STARTS.length * LEVELS_LEFT.length),
      bath: ({ hours }: Circumstance): number => {
        const gone = Math.max(0, (hours / span - start) / (1 - start));
        return (1 / (1 - (1 - left) * gone) - 1) / (1 / left - 1);
      },
    })),
  );
  return grown(
    model,
    "LEVEL_FALLEN",
    { mean: -0.5, deviation: 0.8 },
    [{ share: 0.4, bath: () => 1 }, ...leaks],
    fewAnodes(model),
  );
}

/** Over the span of the readings. */
const PASSIVATION_STARTS = [0, 0.25, 0.5, 0.75];
const PASSIVATING_HOURS = [0.5, 1.5, 4];
/** Share of the anode that stays open in the end, and how often; 1 stands for a film over all of it. */
const LEFT_OPEN = [
  { open: 1, often: 0.65 },
  { open: 0.2, often: 0.25 },
  { open: 0.05, often: 0.1 },
];

/** A film that closes over the anode: quick at first, then it settles. The anode is passive from then on. */
function passivated(model: Model): Way[] {
  const span = spanOf(model);
  const { dissolvingShare } = model.cell;
  const shapes = PASSIVATION_STARTS.flatMap((start) =>
    PASSIVATING_HOURS.flatMap((slowness) =>
      LEFT_OPEN.map((left) => ({ start, slowness, ...left })),
    ),
  );
  return shapes.flatMap(({ start, slowness, open, often }) => {
    const closed = (hours: number): number =>
      hours <= start * span ? 0 : 1 - Math.exp(-(hours - start * span) / slowness);
    const series = ({ hours }: Circumstance): number =>
      open === 1 ? closed(hours) : (1 / (1 - (1 - open) * closed(hours)) - 1) / (1 / open - 1);
    const share = often / (PASSIVATION_STARTS.length * PASSIVATING_HOURS.length);
    const state = (hours: number): number => (dissolvingShare / 2) * (1 - closed(hours));
    return grown(
      model,
      "ANODE_PASSIVE",
      { mean: 0.3, deviation: 0.9 },
      [{ share: 1, series }],
      [{ share, state }],
    );
  });
}

/** Over the span of the readings: when corrosion begins to tell, and in how long it grows e times. */
const CORROSION_STARTS = [0, 0.35, 0.65];
const CORROSION_QUICKNESS = [0.1, 0.2, 0.45];

/** Copper that thins: its resistance grows faster and faster. e^s is what it has come to at the last reading. */
function corroded(model: Model): Way[] {
  const span = spanOf(model);
  const growths = CORROSION_STARTS.flatMap((start) =>
    CORROSION_QUICKNESS.map((quickness) => {
      const lost = (hours: number): number =>
        Math.expm1(Math.max(0, hours - start * span) / (quickness * span));
      return {
        share: 1 / (CORROSION_STARTS.length * CORROSION_QUICKNESS.length),
        series: ({ hours }: Circumstance): number => lost(hours) / lost(span),
      };
    }),
  );
  return grown(model, "LEAD_CORRODED", { mean: 0.7, deviation: 1.2 }, growths, fewAnodes(model));
}

/** Of what goes wrong at one moment, so much went wrong before the first reading. */
const BEFORE_FIRST = 0.4;
const FLICKERS = [0.2, 0.6];

/** A clip on scale or rust: too much resistance from one moment on, and never the same twice. */
function poorContact(model: Model): Way[] {
  const growths = onsets(model, BEFORE_FIRST).flatMap(({ share, hour }) =>
    FLICKERS.map((flicker) => ({
      share: share / FLICKERS.length,
      series: ({ hours }: Circumstance): number => (hours > hour ? 1 : 0),
      flicker,
    })),
  );
  return grown(model, "POOR_CONTACT", { mean: 0.2, deviation: 1 }, growths, fewAnodes(model));
}

/** s is the logit of how deep the touch pulls the volts between part and anode. */
function touching(model: Model): Way[] {
  return switchedOver(model, "TOUCHING", { mean: 1.5, deviation: 1.5 }, (s) => {
    const { slopeAmps, slopeVolts, ...point } = pointOn(model.touch, s);
    return { ...point, ampsByS: slopeAmps, voltsByS: slopeVolts };
  });
}

function nothingFlows(model: Model): Way[] {
  const none = { lnAmps: lnAmps(0), ampsByS: 0, voltsByS: 0 };
  const full = lnVolts(openVoltage(model.cell.supply));
  return [
    ...switchedOver(model, "LEAD_OPEN", KNOWN, () => ({ ...none, lnVolts: full })),
    ...switchedOver(model, "SUPPLY_OFF", KNOWN, () => ({ ...none, lnVolts: lnVolts(0) })),
  ];
}

type Shown = Pick<Predicted, "lnAmps" | "lnVolts" | "ampsByS" | "voltsByS">;

/** As it should be until one moment, and then something quite different, whatever the bath is like. */
function switchedOver(model: Model, cause: Cause, s: Unknown, after: (s: number) => Shown): Way[] {
  const sound = seriesFamily(model, () => model.cell.dissolvingShare, KNOWN, {});
  return onsets(model, BEFORE_FIRST).map(({ share, hour }) => ({
    cause,
    share,
    family: {
      x: model.x,
      s,
      sideways: bathAsMixed(model),
      predict: (x, severity) => {
        const changed = {
          ...after(severity),
          ampsByX: 0,
          voltsByX: 0,
          flickerAmps: 0,
          flickerVolts: 0,
        };
        return sound
          .predict(x, 0)
          .map((told, index) => ((model.readings[index]?.hours ?? 0) > hour ? changed : told));
      },
    },
  }));
}
