/**
 * Quantities: plain numbers whose unit is in the type. SI or SI-accepted units inside;
 * other units exist only at the edge (see `conversions.ts`).
 */
type Quantity<Unit extends string> = number & { readonly unit: Unit };

export type Amperes = Quantity<"A">;
export type AmpereHours = Quantity<"A·h">;
export type AmperesPerSquareMetre = Quantity<"A/m²">;
export type Celsius = Quantity<"°C">;
export type CubicMetresPerHour = Quantity<"m³/h">;
export type Grams = Quantity<"g">;
export type GramsPerLitre = Quantity<"g/L">;
export type Hours = Quantity<"h">;
export type KilowattHours = Quantity<"kW·h">;
export type Litres = Quantity<"L">;
export type MassPercent = Quantity<"%">;
export type Metres = Quantity<"m">;
export type Millimetres = Quantity<"mm">;
export type Ohms = Quantity<"Ω">;
export type SiemensPerMetre = Quantity<"S/m">;
export type SquareMetres = Quantity<"m²">;
export type SquareMillimetres = Quantity<"mm²">;
export type Volts = Quantity<"V">;
export type Watts = Quantity<"W">;

/** Tags a plain number with its unit. One constructor a unit; none of them converts or checks. */
export const amperes = (value: number): Amperes => value as Amperes;
export const ampereHours = (value: number): AmpereHours => value as AmpereHours;
export const amperesPerSquareMetre = (value: number): AmperesPerSquareMetre =>
  value as AmperesPerSquareMetre;
export const celsius = (value: number): Celsius => value as Celsius;
export const cubicMetresPerHour = (value: number): CubicMetresPerHour =>
  value as CubicMetresPerHour;
export const grams = (value: number): Grams => value as Grams;
export const gramsPerLitre = (value: number): GramsPerLitre => value as GramsPerLitre;
export const hours = (value: number): Hours => value as Hours;
export const kilowattHours = (value: number): KilowattHours => value as KilowattHours;
export const litres = (value: number): Litres => value as Litres;
export const massPercent = (value: number): MassPercent => value as MassPercent;
export const metres = (value: number): Metres => value as Metres;
export const millimetres = (value: number): Millimetres => value as Millimetres;
export const ohms = (value: number): Ohms => value as Ohms;
export const siemensPerMetre = (value: number): SiemensPerMetre => value as SiemensPerMetre;
export const squareMetres = (value: number): SquareMetres => value as SquareMetres;
export const squareMillimetres = (value: number): SquareMillimetres => value as SquareMillimetres;
export const volts = (value: number): Volts => value as Volts;
export const watts = (value: number): Watts => value as Watts;
