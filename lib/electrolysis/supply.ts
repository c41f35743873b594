import {
  type Amperes,
  amperes,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Hours,
  hours,
} from "@/lib/units";

/** What a charger does when the bath asks for more than its rating. */
export const OVER_CURRENTS = [
  "SAGS", // gives what it can, and overheats in time
  "HOLDS", // holds its rated current
  "TRIPS", // switches itself off
] as const;
export type OverCurrent = (typeof OVER_CURRENTS)[number];

/** A battery charger: its voltage sags with current. */
export type Charger = {
  readonly kind: "CHARGER";
  readonly openVoltageV: number;
  readonly innerResistanceOhm: number;
  readonly ratedCurrentA: number;
  /** Share of the rating it can give without end, in (0, 1]; 0.8 usual. */
  readonly dutyFactor: number;
  /** What it does above its rating; `SAGS` where left out. */
  readonly overCurrent?: OverCurrent;
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

/** Current that the supply holds when the bath asks for more, A; without end for one that lets it flow. */
export function currentLimit(supply: Supply): number {
  if (supply.kind === "BENCH") return supply.currentLimitA;
  const holds = supply.kind === "CHARGER" && supply.overCurrent === "HOLDS";
  return holds ? supply.ratedCurrentA : Number.POSITIVE_INFINITY;
}

/** Whether this current makes the supply switch itself off. */
export function tripsAt(supply: Supply, currentA: number): boolean {
  return (
    supply.kind === "CHARGER" && supply.overCurrent === "TRIPS" && currentA > supply.ratedCurrentA
  );
}

/** Share of a battery's capacity that may be drawn without harm to it: common practice for lead-acid, no source. */
const USABLE_SHARE = 0.5;

/**
 * Hours a supply lasts at a current.
 * @param current A, ≥ 0
 * @returns h; Infinity from the wall, or at no current
 * @throws RangeError if the current is negative or not finite
 * @example supplyHours({ kind: "BATTERY", openVoltageV: 12.6, innerResistanceOhm: 0.02, capacityAh: 60 }, amperes(3)) // 10 h
 */
export function supplyHours(supply: Supply, current: Amperes): Hours {
  checkNonNegative("current", current, "A");
  if (supply.kind !== "BATTERY") return hours(Number.POSITIVE_INFINITY);
  return hours((USABLE_SHARE * supply.capacityAh) / current);
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
