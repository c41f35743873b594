import {
  type Celsius,
  checkRange,
  type MassPercent,
  massPercent,
  type SiemensPerMetre,
  siemensPerMetre,
} from "@/lib/units";
import { monotoneCurve, solveIncreasing, type TablePoint } from "./interpolation";
import type { Salt } from "./salts";
import { saturation } from "./solubility";

/**
 * S/m at 20 °C, by mass %. CRC Handbook of Chemistry and Physics, "Electrical Conductivity of Aqueous
 * Solutions", p. 5-71, there in mS/cm (1 mS/cm = 0.1 S/m). The bicarbonate row is from memory of that table.
 */
const CONDUCTIVITY_TABLE: Readonly<Record<Salt, readonly TablePoint[]>> = {
  SODIUM_CARBONATE: [
    [0, 0],
    [0.5, 0.7],
    [1, 1.31],
    [2, 2.33],
    [5, 4.7],
    [10, 7.44],
    [15, 8.86],
  ],
  SODIUM_BICARBONATE: [
    [0, 0],
    [0.5, 0.42],
    [1, 0.82],
    [2, 1.5],
    [5, 3.14],
  ],
};

/** Where each salt's conductivity comes from, for showing. */
export const CONDUCTIVITY_SOURCE: Readonly<Record<Salt, string>> = {
  SODIUM_CARBONATE: "CRC Handbook, Electrical Conductivity of Aqueous Solutions, p. 5-71",
  SODIUM_BICARBONATE:
    "CRC Handbook, Electrical Conductivity of Aqueous Solutions, p. 5-71 (from memory)",
};

/** Strongest solution in the conductivity table, mass %. */
export const STRONGEST_KNOWN_CONDUCTIVITY: Readonly<Record<Salt, number>> = {
  SODIUM_CARBONATE: 15,
  SODIUM_BICARBONATE: 5,
};

/**
 * Share of its 20 °C value that κ gains a kelvin. Carbonate: Kohlrausch and Holborn's data, rounded;
 * bicarbonate: about what salts in water gain (both from memory).
 */
export const TEMPERATURE_FACTOR: Readonly<Record<Salt, number>> = {
  SODIUM_CARBONATE: 0.025,
  SODIUM_BICARBONATE: 0.02,
};

/** The straight line in temperature is refused outside this span, °C. */
export const CONDUCTIVITY_TEMPERATURES = { least: 0, most: 50 } as const;

const CURVES: Readonly<Record<Salt, (strength: number) => number>> = {
  SODIUM_CARBONATE: monotoneCurve(CONDUCTIVITY_TABLE.SODIUM_CARBONATE),
  SODIUM_BICARBONATE: monotoneCurve(CONDUCTIVITY_TABLE.SODIUM_BICARBONATE),
};

/**
 * Conductivity of a soda solution.
 *
 *   κ(w, T) = κ₂₀(w) · (1 + α·(T − 20))
 *
 * with κ₂₀ a monotone curve through the table and 0. Within ± 10 % from 5 to 40 °C, ± 20 % beyond.
 *
 * @param strength    mass % anhydrous, 0 to 15 (carbonate) or 5 (bicarbonate), not above saturation
 * @param temperature °C, 0 to 50
 * @returns S/m
 * @throws RangeError outside those ranges, or above saturation at this temperature
 * @example conductivity("SODIUM_CARBONATE", massPercent(2), celsius(20)) // 2.33 S/m
 */
export function conductivity(
  salt: Salt,
  strength: MassPercent,
  temperature: Celsius,
): SiemensPerMetre {
  checkStrength(salt, strength, temperature);
  return siemensPerMetre(CURVES[salt](strength) * warming(salt, temperature));
}

/**
 * Strength that gives a wanted conductivity: the inverse of `conductivity`.
 * @param wanted S/m, 0 to the strongest known solution at this temperature
 * @returns mass % of anhydrous salt
 * @throws RangeError if no solution of this salt conducts so well at this temperature
 * @example strengthForConductivity("SODIUM_CARBONATE", siemensPerMetre(2.33), celsius(20)) // 2 %
 */
export function strengthForConductivity(
  salt: Salt,
  wanted: SiemensPerMetre,
  temperature: Celsius,
): MassPercent {
  const strongest = strongestSolution(salt, temperature);
  const most = conductivity(salt, strongest, temperature);
  checkRange("conductivity", wanted, 0, most, "S/m");
  const factor = warming(salt, temperature);
  return massPercent(solveIncreasing((w) => CURVES[salt](w) * factor, wanted, 0, strongest));
}

/**
 * The strongest solution whose conductivity is known: the end of the table, or saturation before it.
 * @returns mass %
 * @example strongestSolution("SODIUM_CARBONATE", celsius(0)) // 6.5 %
 */
export function strongestSolution(salt: Salt, temperature: Celsius): MassPercent {
  checkTemperature(temperature);
  return massPercent(Math.min(STRONGEST_KNOWN_CONDUCTIVITY[salt], saturation(salt, temperature)));
}

/**
 * How far κ may be off, as a share of it.
 * @example conductivityErrorShare(celsius(20)) // 0.1
 */
export function conductivityErrorShare(temperature: Celsius): number {
  checkTemperature(temperature);
  return temperature >= 5 && temperature <= 40 ? 0.1 : 0.2;
}

function warming(salt: Salt, temperature: Celsius): number {
  return 1 + TEMPERATURE_FACTOR[salt] * (temperature - 20);
}

function checkTemperature(temperature: Celsius): void {
  const { least, most } = CONDUCTIVITY_TEMPERATURES;
  checkRange("temperature", temperature, least, most, "°C");
}

function checkStrength(salt: Salt, strength: MassPercent, temperature: Celsius): void {
  checkTemperature(temperature);
  checkRange("strength", strength, 0, STRONGEST_KNOWN_CONDUCTIVITY[salt], "mass %");
  const most = saturation(salt, temperature);
  if (strength > most) {
    throw new RangeError(
      `strength must be at most ${most.toFixed(1)} mass % to stay dissolved at ${temperature} °C, got ${strength}`,
    );
  }
}
