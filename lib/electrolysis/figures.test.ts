import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import {
  ampereHours,
  amperes,
  celsius,
  hours,
  kilowattHours,
  volts,
  type Worked,
} from "@/lib/units";
import { workedAnodeLife } from "./anode-life";
import { CARE_NAMES, careDue, CARES } from "./care";
import { ANODE, anodeBetween, CATHODE } from "./kinetics";
import type { Cell } from "./operating-point";
import { SALT_GRADE_FACTS, SALT_GRADES } from "./salts";
import { bathTemperature, workedWarming } from "./warming";
import { workedDewPoint, workedTopUp } from "./water";
import { LIMITING_TERM_WORDS, workedConductivity, workedOperatingPoint } from "./worked";
import {
  workedAnodeLoss,
  workedBathHeat,
  workedEnergyAtWall,
  workedHydrogen,
  workedVentilation,
} from "./worked-gas";

const cell: Cell = {
  supply: { kind: "BENCH", voltageV: 12, currentLimitA: 20, dutyFactor: 0.8 },
  conductivitySPerM: 0.5,
  shapeLengthM: 0.6,
  partAreaM2: 0.1,
  anodeAreaM2: 0.05,
  leadOhm: 0.02,
  contactOhm: 0.02,
  dissolvingShare: 0.5,
};
const charger: Cell = {
  ...cell,
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.6,
    innerResistanceOhm: 0.2,
    ratedCurrentA: 10,
    dutyFactor: 0.8,
    overCurrent: "SAGS",
  },
};
const salts = (carbonateMassG: number, bicarbonateMassG: number) => ({
  ...{ carbonateMassG, bicarbonateMassG },
  volumeL: 20,
  temperatureC: 20,
});
const anode = {
  initialMassG: 4000,
  replaceAtShare: 0.5,
  lostG: 1000,
  lostErrorG: 20,
  weeklyLossesG: [50, 60],
  bookedLossesG: [40],
  lossFactorErrorShare: 0.3,
  thickness: { newMm: 2, leastMm: 1.2 },
};
const warm = { heatW: 100, volumeL: 100, surfaceM2: 1, roomC: 18 };
const use = { past: [100, 120], booked: [80] };

/** Worked out inside the tests, so that a test is known to need what it calls. */
const all = (): readonly Worked[] =>
  [
    workedConductivity(salts(100, 0)),
    workedConductivity(salts(0, 100)),
    workedConductivity(salts(60, 40)),
    workedOperatingPoint(cell),
    workedOperatingPoint(charger),
    workedHydrogen(ampereHours(10), celsius(20)),
    workedVentilation(amperes(10)),
    workedVentilation(amperes(10), 3),
    workedAnodeLoss(ampereHours(10), { mean: 0.15, error: 0.15 }),
    workedBathHeat(amperes(5), volts(12)),
    workedEnergyAtWall(kilowattHours(0.12), 0.75),
    workedAnodeLife(anode),
    workedAnodeLife({ ...anode, lostG: 2100 }),
    workedWarming(warm, hours(8)),
    workedDewPoint(celsius(18), 60),
    workedTopUp(
      { surfaceM2: 0.3, bathC: 25, airC: 18, humidityPercent: 60 },
      hours(8),
      ampereHours(50),
      0.15,
    ),
    ...CARES.map((care) => careDue(care, 40, use).weeks),
  ].filter((worked) => worked !== null);

describe("figures of a bath", () => {
  it("are whole", () => {
    for (const worked of all()) expectWholeFigure(worked);
    expect(all()).toHaveLength(19);
  });

  it("have names of their own, and units where they have a dimension", () => {
    const units = all().map(({ name, unit }) => [name, unit]);
    expect(Object.fromEntries(units)).toEqual({
      "conductivity of the bath": "S/m",
      current: "A",
      hydrogen: "L",
      "fresh air": "m³/h",
      "anode loss": "g",
      "heat in the bath": "W",
      "energy at the wall": "kW·h",
      "weeks until the anode is due": "weeks",
      "bath at the end": "°C",
      "dew point": "°C",
      "plain water to top up afterwards": "L",
      "weeks until due: clamps looked at and scraped bright": "weeks",
      "weeks until due: anode brushed": "weeks",
      "weeks until due: sludge taken out": "weeks",
    });
  });
});

describe("words of a bath", () => {
  it("say what each reaction is and where it is from", () => {
    for (const { name, source, standing } of [
      ...[ANODE.ACTIVE, ANODE.PASSIVE, anodeBetween(0.3), CATHODE],
    ]) {
      expect(name).toMatch(/hydrogen|iron/);
      expect(source).toMatch(/\w{4}/);
      expect(standing).toBe("assumption");
    }
  });

  it.each(SALT_GRADES)("name the grade %s and its source", (grade) => {
    for (const words of Object.values(SALT_GRADE_FACTS[grade])) {
      if (typeof words === "string") expect(words).toMatch(/\w{3}/);
    }
  });

  it("name what holds a current down, and what a tank needs", () => {
    for (const words of [...Object.values(LIMITING_TERM_WORDS), ...Object.values(CARE_NAMES)]) {
      expect(words).toMatch(/\w{4}/);
    }
    expect(new Set(Object.values(LIMITING_TERM_WORDS)).size).toBe(
      Object.keys(LIMITING_TERM_WORDS).length,
    );
  });

  it("warm a bath by what its figure says", () => {
    expect(workedWarming(warm, hours(8)).value).toBe(bathTemperature(warm, hours(8)));
  });
});
