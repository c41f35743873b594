import { ANODE, closedFormShapeLength } from "@/lib/electrolysis";
import type { Cause } from "./causes";
import type { Dice } from "./simulate-dice";
import type { Harm, SoundTank } from "./simulate-tank";

export type SimulatedFault = Exclude<Cause, "SOMETHING_ELSE">;

/** What a fault does, by hour since loading. */
export type HarmByHour = (hour: number) => Harm;

type Scene = {
  readonly dice: Dice;
  /** h from loading to the last reading */
  readonly span: number;
  /** Ω of the whole sound circuit: what a bad contact must be held against to matter */
  readonly ohm: number;
  /** h at which something that happens at one moment happens; before loading in four of ten */
  readonly onset: number;
};

/** A fault of random severity and onset. */
export function drawHarm(
  dice: Dice,
  fault: SimulatedFault,
  tank: SoundTank,
  span: number,
): HarmByHour {
  const bath = tank.conductivity * closedFormShapeLength(tank.loaded) * tank.shapeFactor;
  const onset = dice.chance(0.4) ? -1 : dice.between(0, 0.85) * span;
  return HARMS[fault]({ dice, span, ohm: 1 / bath + 0.1, onset });
}

const HARMS: Readonly<Record<SimulatedFault, (scene: Scene) => HarmByHour>> = {
  AS_IT_SHOULD: () => () => ({}),
  REVERSED: () => () => ({ meter: "reversed" }),
  LEAD_OPEN: (scene) => after(scene, () => ({ meter: "no current" })),
  SUPPLY_OFF: (scene) => after(scene, () => ({ meter: "nothing" })),
  TOUCHING: (scene) => {
    const touchOhm = scene.dice.about(0.003, 0.5) * Math.min(1, scene.ohm);
    return after(scene, () => ({ touchOhm }));
  },
  POOR_CONTACT: (scene) => {
    const usual = scene.ohm * scene.dice.about(0.15, 8);
    const flicker = scene.dice.between(0.08, 1);
    return after(scene, () => ({ seriesOhm: scene.dice.noisy(usual, flicker) }));
  },
  LEAD_CORRODED: corroding,
  ANODE_PASSIVE: passivating,
  ANODE_WORN: ({ dice }) => {
    const anodeArea = dice.about(0.08, 0.7);
    const layerM = dice.between(0.001, 0.003);
    return () => ({ anodeArea, layerM });
  },
  BATH_WEAK: ({ dice }) => {
    const conductivity = dice.between(0.15, 0.8);
    return () => ({ conductivity });
  },
  BATH_STRONG: ({ dice }) => {
    const conductivity = dice.about(1.2, 5);
    return () => ({ conductivity });
  },
  BATH_SPENT: ({ dice, ohm }) => {
    const film = ohm * dice.about(0.2, 3);
    const conductivity = dice.between(0.9, 1.05);
    const growth = dice.between(0, 0.08);
    return (hour) => ({ conductivity, seriesOhm: film * (1 + growth * hour) });
  },
  LEVEL_FALLEN: leaking,
};

function after({ onset }: Scene, harm: HarmByHour): HarmByHour {
  return (hour) => (hour > onset ? harm(hour) : {});
}

/** Half of the leads thin exponentially, half by a power of the time. */
function corroding({ dice, span, ohm }: Scene): HarmByHour {
  const begins = dice.between(-0.3, 0.6) * span;
  const whole = ohm * dice.about(0.2, 12);
  const sharp = dice.about(1.6, 12);
  const exponential = dice.chance(0.5);
  return (hour) => {
    const share = Math.max(0, (hour - begins) / (span - begins));
    const lost = exponential
      ? Math.expm1(sharp * share) / Math.expm1(sharp)
      : share ** (1 + sharp / 4);
    return { seriesOhm: whole * lost };
  };
}

/** The anode turns passive, and what works of it shrinks. */
function passivating({ dice, span }: Scene): HarmByHour {
  const begins = dice.between(-0.2, 0.7) * span;
  const left = dice.about(0.03, 0.6);
  const slowness = dice.about(0.25, 5);
  return (hour) => {
    if (hour <= begins) return {};
    const closed = 1 - Math.exp(-(hour - begins) / slowness);
    return { anode: ANODE.PASSIVE, anodeArea: 1 - (1 - left) * closed };
  };
}

function leaking({ dice, span }: Scene): HarmByHour {
  const left = dice.between(0.25, 0.92);
  const begins = dice.chance(0.4) ? -1e6 : dice.between(0, 0.6) * span;
  return (hour) => {
    const share = Math.min(1, Math.max(0, (hour - begins) / (span - begins)));
    return { level: 1 - (1 - left) * share };
  };
}
