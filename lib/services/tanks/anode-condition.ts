import type { AnodeRow } from "@/lib/data";
import { anodeMassDissolved } from "@/lib/electrolysis";
import { ampereHours, type Worked, type WorkedInput } from "@/lib/units";

/** g/cm³: plain steel, handbook. */
const STEEL_G_PER_CM3 = 7.85;
/** From this share of what may go: worth a look. Assumption. */
const LOOK_FROM_SHARE = 0.8;

/** One anode as it stands, each figure with its working. */
export type AnodeCondition = {
  readonly anode: AnodeRow;
  readonly massG: Worked;
  /** % of the mass it came with */
  readonly gone: Worked;
  readonly thicknessMm: Worked;
  readonly state: "sound" | "look" | "replace";
};

/**
 * Mass and wear of an anode, from its weighings and its runs. When it is due is the figures' to say (`anodeFigures`).
 *
 *   m = m_weighed − Σ φ·1.0418 g/A·h·Q      Faraday's law; φ the share of the charge that dissolves iron
 */
export function anodeCondition(anode: AnodeRow, now: Date): AnodeCondition {
  const weighing = anode.weighings[0];
  const since = weighing?.at ?? anode.installedAt;
  const startG = weighing?.massG ?? anode.initialMassG;
  const wear = anode.wear.filter(({ run }) => (run.pulledAt ?? now) > since);
  const lossG = wear.reduce((sum, { lossG: loss }) => sum + loss, 0);
  const chargeAh = wear.reduce((sum, { chargeAh: charge }) => sum + charge, 0);
  const massG = workedMass(anode, { startG, lossG, chargeAh });
  const goneShare = 1 - massG.value / anode.initialMassG;
  return {
    anode,
    massG,
    gone: workedGone(anode, massG),
    thicknessMm: workedThickness(anode, massG.value),
    state:
      goneShare >= anode.replaceAtShare
        ? "replace"
        : goneShare >= LOOK_FROM_SHARE * anode.replaceAtShare
          ? "look"
          : "sound",
  };
}

type Since = { readonly startG: number; readonly lossG: number; readonly chargeAh: number };

function workedMass(anode: AnodeRow, { startG, lossG, chargeAh }: Since): Worked {
  const weighing = anode.weighings[0];
  const errorG = weighing?.errorG ?? 5;
  const spreadG = anodeMassDissolved(ampereHours(chargeAh), anode.lossFactorError);
  return {
    name: "mass now",
    value: Math.max(0, startG - lossG),
    low: Math.max(0, startG - lossG - spreadG - errorG),
    high: Math.min(anode.initialMassG, startG - lossG + spreadG + errorG),
    unit: "g",
    formula: "m = m_start − Σ φ · 1.0418 g/A·h · Q",
    inputs: [
      {
        name: weighing ? "last weighed" : "when put in",
        symbol: "m_start",
        value: startG,
        unit: "g",
        standing: weighing ? "measured here" : "entered here",
      },
      {
        name: "charge since",
        symbol: "Q",
        value: chargeAh,
        unit: "A·h",
        standing: "measured here",
      },
      lossFactorInput(anode),
      { name: "iron dissolved since", value: lossG, unit: "g", standing: "assumption" },
    ],
    standing: chargeAh === 0 && weighing ? "measured here" : "assumption",
    source: "Faraday's law (CODATA 2018); φ narrows with each weighing",
  };
}

function lossFactorInput(anode: AnodeRow): WorkedInput {
  return {
    name: "share of charge that dissolves iron",
    symbol: "φ",
    value: `${anode.lossFactor.toFixed(2)} ± ${anode.lossFactorError.toFixed(2)}`,
    standing: anode.weighings.length > 0 ? "measured here" : "assumption",
    source: anode.weighings.length > 0 ? "from its weighings" : "wide prior until it is weighed",
  };
}

function workedGone(anode: AnodeRow, mass: Worked): Worked {
  const percent = (massG: number): number => 100 * (1 - massG / anode.initialMassG);
  return {
    name: "gone",
    value: Math.max(0, percent(mass.value)),
    low: Math.max(0, percent(mass.high ?? mass.value)),
    high: percent(mass.low ?? mass.value),
    unit: "%",
    formula: "1 − m / m_new",
    inputs: [
      { name: "mass now", symbol: "m", value: mass.value, unit: "g", standing: mass.standing },
      {
        name: "mass when new",
        symbol: "m_new",
        value: anode.initialMassG,
        unit: "g",
        standing: "entered here",
      },
      {
        name: "replace when gone",
        value: 100 * anode.replaceAtShare,
        unit: "%",
        standing: "entered here",
      },
    ],
    standing: mass.standing,
  };
}

function workedThickness(anode: AnodeRow, massG: number): Worked {
  const areaCm2 = anode.wettedAreaM2 * 10_000;
  return {
    name: "mean thickness left",
    value: (10 * massG) / (STEEL_G_PER_CM3 * areaCm2),
    unit: "mm",
    formula: "d = m / (ρ · A)",
    inputs: [
      { name: "mass now", symbol: "m", value: massG, unit: "g", standing: "assumption" },
      {
        name: "wetted area",
        symbol: "A",
        value: anode.wettedAreaM2,
        unit: "m²",
        standing: "entered here",
      },
      {
        name: "density of steel",
        symbol: "ρ",
        value: STEEL_G_PER_CM3,
        unit: "g/cm³",
        standing: "handbook",
      },
    ],
    standing: "assumption",
    note: "A mean: edges and the waterline go first. Look at the clamp and the waterline whatever it says.",
  };
}
