import {
  bathHeat,
  closedRoomHours,
  entered,
  HYDROGEN_LIMITS,
  openingNeeded,
  workedDewPoint,
  workedTopUp,
  workedWarming,
} from "@/lib/electrolysis";
import { openSurface, wettedWall } from "@/lib/tanks";
import {
  ampereHours,
  amperes,
  celsius,
  cubicMetresPerHour,
  hours as asHours,
  millimetres,
  volts,
  type Worked,
} from "@/lib/units";
import type { Candidate } from "./candidate";
import type { HoursRange } from "./hours";
import type { Workshop } from "./tank-option";

/** Relative humidity of a workshop that has not said, %: assumption. */
const USUAL_HUMIDITY = 60;

/** What a run does to the bath and the air round it. */
export type RoomFigures = {
  /** Plain water to top up after the run. */
  readonly waterL: Worked;
  readonly bathEndC: Worked;
  readonly dewPointC: Worked;
};

/** Water, warmth and dew of a run of so many hours. */
export function roomFigures(
  { tank, levelMm, volumeL, band }: Candidate,
  workshop: Workshop,
  hours: HoursRange,
): RoomFigures {
  const humidityPercent = workshop.humidityPercent ?? USUAL_HUMIDITY;
  const level = millimetres(Math.min(levelMm, tank.shape.depthMm));
  const surfaceM2 = openSurface(tank.shape, level);
  const { currentA, cellVoltageV } = band.mid;
  const bathEndC = workedWarming(
    {
      heatW: bathHeat(amperes(currentA), volts(cellVoltageV)),
      volumeL,
      surfaceM2: surfaceM2 + wettedWall(tank.shape, level),
      roomC: workshop.temperatureC,
    },
    asHours(hours.p50),
  );
  return {
    waterL: workedTopUp(
      {
        surfaceM2,
        bathC: (workshop.temperatureC + bathEndC.value) / 2,
        airC: workshop.temperatureC,
        humidityPercent,
      },
      asHours(hours.p50),
      ampereHours(currentA * hours.p50),
      tank.anode.lossFactor,
    ),
    bathEndC,
    dewPointC: workedDewPoint(celsius(workshop.temperatureC), humidityPercent),
  };
}

/** Free area that lets the air in, and as much out. */
export function workedOpening(airM3PerH: number): Worked {
  return {
    name: "opening for the air, in and out each",
    value: openingNeeded(cubicMetresPerHour(airM3PerH)),
    unit: "cm²",
    formula: "A = 28 · Q",
    inputs: [
      { name: "fresh air", symbol: "Q", value: airM3PerH, unit: "m³/h", standing: "assumption" },
    ],
    standing: "assumption",
    source: "IEC 62485-2 / EN 50272-2 battery rule, carried over to a tank by us",
    note: "Natural draught at 0.1 m/s. Local codes decide.",
  };
}

/** Hours until a shut room holds too much hydrogen. */
export function workedClosedRoom(currentA: number, workshop: Workshop): Worked {
  const temperature = celsius(workshop.temperatureC);
  const inHours = (share: number): number =>
    closedRoomHours(workshop.roomVolumeM3, amperes(currentA), share, temperature);
  return {
    name: "hours until a shut room reaches 1 % hydrogen",
    value: inHours(HYDROGEN_LIMITS.alarm),
    high: inHours(HYDROGEN_LIMITS.flammable),
    unit: "h",
    formula: "t = V_room · x / (hydrogen per hour)",
    inputs: [
      entered("room", "V_room", workshop.roomVolumeM3, "m³"),
      { name: "current", value: currentA, unit: "A", standing: "assumption" },
    ],
    standing: "assumption",
    note: "Well mixed and shut; the high figure is the lower explosive limit, 4 %. Foam and lids gather gas far sooner.",
  };
}
