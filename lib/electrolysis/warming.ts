import {
  celsius,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Hours,
  litres,
  type Watts,
  watts,
  type Worked,
} from "@/lib/units";
import { heatingRate } from "./faraday";

/** W/(m²·K) from a still tank to still air, walls and open surface together: assumption, handbook span 5 to 25. */
export const HEAT_LOSS_W_PER_M2_K = 10;
/** The same, as it may be: for the band. */
const HEAT_LOSS_BAND = { low: 5, high: 20 } as const;

/** A bath that takes heat from the current and gives it to the room. */
export type WarmBath = {
  readonly heatW: number;
  readonly volumeL: number;
  /** wetted walls and open surface, m² */
  readonly surfaceM2: number;
  readonly roomC: number;
};

/**
 * Temperature of a bath that began at the room's, after so many hours of heat.
 *
 *   T = T_room + P/(U·A) · (1 − e^(−t/τ)),   τ = m·c_p/(U·A)
 *
 * @param lossWPerM2K U, W/(m²·K), > 0
 * @throws RangeError naming the figure that is out of range
 * @example bathTemperature({ heatW: 30, volumeL: 60, surfaceM2: 1, roomC: 18 }, hours(24)) // 20.9 °C
 */
export function bathTemperature(
  bath: WarmBath,
  duration: Hours,
  lossWPerM2K = HEAT_LOSS_W_PER_M2_K,
): Celsius {
  checkRange("heat", bath.heatW, -1e5, 1e5, "W");
  checkPositive("surface of the tank", bath.surfaceM2, "m²");
  checkPositive("heat loss", lossWPerM2K, "W/(m²·K)");
  checkNonNegative("duration", duration, "h");
  checkRange("room temperature", bath.roomC, -40, 60, "°C");
  const lossW = lossWPerM2K * bath.surfaceM2;
  const kelvinPerHour = heatingRate(watts(lossW), litres(bath.volumeL)); // 1/τ, for a loss of 1 K
  return celsius(bath.roomC + (bath.heatW / lossW) * -Math.expm1(-kelvinPerHour * duration));
}

/**
 * Where a bath's temperature goes in a run, with its working.
 * @throws RangeError as `bathTemperature`
 * @example workedWarming({ heatW: 30, volumeL: 60, surfaceM2: 1, roomC: 18 }, hours(24)).value // °C at the end
 */
export function workedWarming(bath: WarmBath, duration: Hours): Worked {
  const first: Watts = watts(bath.heatW);
  return {
    name: "bath at the end",
    value: bathTemperature(bath, duration),
    unit: "°C",
    low: bathTemperature(bath, duration, HEAT_LOSS_BAND.high),
    high: bathTemperature(bath, duration, HEAT_LOSS_BAND.low),
    formula: "T = T_room + P/(U·A) · (1 − e^(−t/τ)), τ = m·c_p/(U·A)",
    inputs: [
      { name: "heat", symbol: "P", value: bath.heatW, unit: "W", standing: "assumption" },
      {
        name: "workshop",
        symbol: "T_room",
        value: bath.roomC,
        unit: "°C",
        standing: "entered here",
      },
      { name: "hours", symbol: "t", value: duration, unit: "h", standing: "assumption" },
      {
        name: "wetted walls and open surface",
        symbol: "A",
        value: bath.surfaceM2,
        unit: "m²",
        standing: "entered here",
      },
      {
        name: "loss to the room",
        symbol: "U",
        value: `${HEAT_LOSS_BAND.low} to ${HEAT_LOSS_BAND.high}, taken as ${HEAT_LOSS_W_PER_M2_K}`,
        unit: "W/(m²·K)",
        standing: "assumption",
      },
      {
        name: "warming before any loss",
        value: heatingRate(first, litres(bath.volumeL)),
        unit: "K/h",
        standing: "handbook",
        source: "heat capacity of water 4.18 kJ/(kg·K)",
      },
    ],
    standing: "assumption",
    source: "first law, one well-stirred body losing heat to still air",
    note: "Above {40 °C} look at the tank; plastic softens and bicarbonate breaks down near {50 °C}.",
  };
}
