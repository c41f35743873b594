import {
  type AnodeKinetics,
  type Cell,
  closedFormShapeLength,
  currentLimit,
  innerResistance,
  type LoadedTank,
  openVoltage,
  operatingPoint,
  type Supply,
} from "@/lib/electrolysis";
import type { Dice } from "./simulate-dice";

/** What a fault does to the tank at an hour: changes of the sound tank. */
export type Harm = {
  readonly conductivity?: number;
  readonly anodeArea?: number;
  readonly layerM?: number;
  readonly level?: number;
  readonly seriesOhm?: number;
  readonly touchOhm?: number;
  readonly anode?: AnodeKinetics;
  readonly meter?: "no current" | "nothing" | "reversed";
};

export type SoundTank = {
  readonly loaded: LoadedTank;
  readonly supply: Supply;
  readonly conductivity: number;
  readonly leadOhm: number;
  readonly contactOhm: number;
  readonly dissolvingShare: number;
  /** g of this very tank over the closed form */
  readonly shapeFactor: number;
};

function drawSupply(dice: Dice): Supply {
  return dice.oneOf<() => Supply>([
    () => ({
      kind: "CHARGER",
      openVoltageV: dice.between(12, 15),
      innerResistanceOhm: dice.about(0.05, 0.4),
      ratedCurrentA: dice.between(8, 40),
      dutyFactor: 0.8,
      overCurrent: dice.oneOf(["SAGS", "HOLDS"]),
    }),
    () => ({
      kind: "BENCH",
      voltageV: dice.between(6, 24),
      currentLimitA: dice.about(5, 60),
      dutyFactor: 1,
    }),
    () => ({
      kind: "BATTERY",
      openVoltageV: dice.between(11.8, 12.8),
      innerResistanceOhm: dice.about(0.01, 0.05),
      capacityAh: dice.between(40, 120),
    }),
  ])();
}

export function drawTank(dice: Dice): SoundTank {
  const levelM = dice.between(0.18, 0.7);
  const volumeL = levelM * 1000 * dice.about(0.06, 0.5);
  const wallM2 = 2 * levelM * Math.sqrt((Math.PI * volumeL) / 1000 / levelM);
  return {
    loaded: {
      partAreaM2: dice.about(0.02, 0.8) * Math.min(1, wallM2),
      volumeL,
      levelM,
      anodeAreaM2: wallM2 * dice.between(0.15, 0.8),
      arrangement: dice.oneOf(["RING", "TWO_SIDED"]),
    },
    supply: drawSupply(dice),
    conductivity: dice.about(0.25, 3),
    leadOhm: dice.about(0.005, 0.08),
    contactOhm: dice.about(0.005, 0.06),
    dissolvingShare: dice.between(0, 0.8),
    shapeFactor: Math.exp(0.25 * dice.normal()),
  };
}

type Meter = { readonly amps: number; readonly volts: number };

const UNHARMED = { conductivity: 1, anodeArea: 1, layerM: 0.001, level: 1, seriesOhm: 0 };

/** Volts and amps at the supply. */
export function meter(tank: SoundTank, anode: AnodeKinetics, warmth: number, harm: Harm): Meter {
  const cell = harmedCell(tank, warmth, { ...UNHARMED, ...harm });
  const state = harm.anode ?? anode;
  if (harm.meter === "nothing") return { amps: 0, volts: 0 };
  if (harm.touchOhm !== undefined) return touched(cell, state, harm.touchOhm);
  const open = harm.meter === "no current";
  const point = operatingPoint(open ? { ...cell, contactOhm: 1e6 } : cell, state);
  return { amps: open ? 0 : point.currentA, volts: point.terminalVoltageV };
}

function harmedCell(tank: SoundTank, warmth: number, harm: Harm & typeof UNHARMED): Cell {
  const { loaded } = tank;
  const now: LoadedTank = {
    ...loaded,
    partAreaM2: loaded.partAreaM2 * harm.level,
    anodeAreaM2: loaded.anodeAreaM2 * harm.anodeArea * harm.level,
    levelM: loaded.levelM * harm.level,
    volumeL: loaded.volumeL * harm.level,
    layerM: harm.layerM,
  };
  return {
    supply: tank.supply,
    conductivitySPerM: tank.conductivity * warmth * harm.conductivity,
    shapeLengthM: closedFormShapeLength(now) * tank.shapeFactor,
    partAreaM2: now.partAreaM2,
    anodeAreaM2: now.anodeAreaM2,
    leadOhm: tank.leadOhm,
    contactOhm: tank.contactOhm + harm.seriesOhm,
    dissolvingShare: tank.dissolvingShare,
  };
}

/** A touch beside the cell: the volts across both at which their currents add to what the leads bring. */
function touched(cell: Cell, anode: AnodeKinetics, touchOhm: number): Meter {
  const outside = cell.leadOhm + cell.contactOhm;
  const open = openVoltage(cell.supply);
  const inner = innerResistance(cell.supply);
  const limit = currentLimit(cell.supply);
  const taken = (across: number): number =>
    across / touchOhm +
    operatingPoint(
      {
        ...cell,
        leadOhm: 0,
        contactOhm: 0,
        supply: { kind: "BENCH", voltageV: across, currentLimitA: 1e6, dutyFactor: 1 },
      },
      anode,
    ).currentA;
  let [low, high] = [1e-6, open];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    const brought = Math.min(limit, (open - middle) / (outside + inner));
    if (taken(middle) < brought) low = middle;
    else high = middle;
  }
  const amps = Math.min(limit, (open - low) / (outside + inner));
  return { amps, volts: low + amps * outside };
}
