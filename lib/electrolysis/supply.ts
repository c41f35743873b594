import { type Amperes, amperes, checkNonNegative, checkPositive, checkRange } from "@/lib/units";

/** A battery charger: its voltage sags with current; it overheats or trips above its rating. */
export type Charger = {
  readonly kind: "CHARGER";
  readonly openVoltageV: number;
  readonly innerResistanceOhm: number;
  readonly ratedCurrentA: number;
  /** Share of the rating it can give without end, in (0, 1]; 0.8 usual. */
  readonly dutyFactor: number;
};

/** A bench supply: holds its voltage until its current limit, then holds the current. */
export type BenchSupply = {
  readonly kind: "BENCH";
  readonly voltageV: number;
  readonly currentLimitA: number;
  readonly dutyFactor: number;
};

/** A battery, not on charge. */
export type Battery = {
  readonly kind: "BATTERY";
  readonly openVoltageV: number;
  readonly innerResistanceOhm: number;
  readonly capacityAh: number;
};

export type Supply = Charger | BenchSupply | Battery;

/** A battery gives a tenth of its capacity an hour without harm: common practice, no source. */
const BATTERY_HOURS = 10;

/**
 * Current the supply can give without end.
 * @example continuousRating({ kind: "CHARGER", openVoltageV: 13.8, innerResistanceOhm: 0.15, ratedCurrentA: 10, dutyFactor: 0.8 }) // 8 A
 */
export function continuousRating(supply: Supply): Amperes {
  switch (supply.kind) {
    case "CHARGER":
      return amperes(supply.ratedCurrentA * supply.dutyFactor);
    case "BENCH":
      return amperes(supply.currentLimitA * supply.dutyFactor);
    case "BATTERY":
      return amperes(supply.capacityAh / BATTERY_HOURS);
  }
}

/** Voltage at no current, V. */
export function openVoltage(supply: Supply): number {
  return supply.kind === "BENCH" ? supply.voltageV : supply.openVoltageV;
}

/** Resistance inside the supply, Ω; a bench supply regulates it away. */
export function innerResistance(supply: Supply): number {
  return supply.kind === "BENCH" ? 0 : supply.innerResistanceOhm;
}

/** Current above which the supply holds back, A; without end for a charger or battery. */
export function currentLimit(supply: Supply): number {
  return supply.kind === "BENCH" ? supply.currentLimitA : Number.POSITIVE_INFINITY;
}

/** @throws RangeError naming the first figure of the supply that is out of range */
export function checkSupply(supply: Supply): void {
  checkPositive("supply voltage", openVoltage(supply), "V");
  checkNonNegative("supply inner resistance", innerResistance(supply), "Ω");
  checkPositive("supply continuous rating", continuousRating(supply), "A");
  if (supply.kind !== "BATTERY") {
    checkRange("duty factor", supply.dutyFactor, Number.MIN_VALUE, 1, "(share)");
  }
}
