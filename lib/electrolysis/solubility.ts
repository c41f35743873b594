import { checkRange, type Celsius, type MassPercent, massPercent } from "@/lib/units";
import { monotoneCurve, type TablePoint } from "./interpolation";
import type { Salt } from "./salts";

/**
 * g in 100 g of water, by °C.
 * Carbonate: tabulated handbook values with the peak at 35.4 °C; 20 °C agrees with a maker's 17.7 % by mass.
 * Bicarbonate: Seidell, Solubilities of Inorganic Compounds, as quoted in a chemical database. It breaks down
 * slowly above about 50 °C, so its last values are nominal.
 */
const SOLUBILITY_TABLE: Readonly<Record<Salt, readonly TablePoint[]>> = {
  SODIUM_CARBONATE: [
    [0, 7.0],
    [10, 12.2],
    [20, 21.8],
    [25, 29.4],
    [30, 39.7],
    [35.4, 49.7],
    [40, 48.8],
    [50, 47.3],
    [60, 46.4],
    [80, 45.1],
    [100, 44.7],
  ],
  SODIUM_BICARBONATE: [
    [0, 6.9],
    [10, 8.2],
    [20, 9.6],
    [25, 10.4],
    [30, 11.1],
    [40, 12.7],
    [50, 14.45],
    [60, 16.4],
    [80, 20.2],
    [100, 24.3],
  ],
};

const CURVES: Readonly<Record<Salt, (temperature: number) => number>> = {
  SODIUM_CARBONATE: monotoneCurve(SOLUBILITY_TABLE.SODIUM_CARBONATE),
  SODIUM_BICARBONATE: monotoneCurve(SOLUBILITY_TABLE.SODIUM_BICARBONATE),
};

/**
 * Most salt that stays dissolved, alone in water.
 * @param temperature °C, 0 to 100
 * @returns g of anhydrous salt in 100 g of water
 * @throws RangeError outside 0 to 100 °C
 * @example solubility("SODIUM_CARBONATE", celsius(20)) // 21.8
 */
export function solubility(salt: Salt, temperature: Celsius): number {
  checkRange("temperature", temperature, 0, 100, "°C");
  return CURVES[salt](temperature);
}

/**
 * Strength of a saturated solution.
 * @returns mass %, g of salt in 100 g of solution
 * @throws RangeError outside 0 to 100 °C
 * @example saturation("SODIUM_CARBONATE", celsius(0)) // 6.5 %: a 10 % bath drops crystals in a cold shop
 */
export function saturation(salt: Salt, temperature: Celsius): MassPercent {
  const dissolved = solubility(salt, temperature);
  return massPercent((100 * dissolved) / (100 + dissolved));
}
