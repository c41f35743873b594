/** What metric unit signs in figures and sentences stand for. */
import type { MeasureKind } from "./measure-kinds";

export type KindOfUnit = {
  readonly kind: MeasureKind;
  /** Stored units of the kind in one of this unit. */
  readonly times: number;
};

const whole = (kind: MeasureKind): KindOfUnit => ({ kind, times: 1 });

/** The kinds that metric units in figures and sentences stand for. Others, such as A or S/m, are the same for all. */
const UNIT_KINDS: Readonly<Record<string, KindOfUnit>> = {
  mm: whole("length"),
  m: whole("distance"),
  "m²": whole("area"),
  "cm²": whole("opening"),
  "mm²": whole("section"),
  g: whole("salt"),
  kg: { kind: "partMass", times: 1000 },
  L: whole("volume"),
  mL: whole("liquid"),
  "°C": whole("temperature"),
  K: whole("warmth"),
  "m/s": whole("draught"),
  "m³": whole("roomVolume"),
  "m³/h": whole("airflow"),
  "A/m²": whole("currentDensity"),
  "A·h/m²": whole("chargeDensity"),
  "A·h/L": whole("bathCharge"),
  "min/m²": whole("workOnArea"),
  "g/L": whole("strength"),
  MPa: whole("stress"),
};

/** The kind that a metric unit stands for, where the other system has another. @example kindOfUnit("mm") */
export const kindOfUnit = (unit: string): KindOfUnit | undefined => UNIT_KINDS[unit];
