import { describe, expect, it } from "vitest";
import {
  ampereHours,
  amperes,
  celsius,
  cubicMetresPerHour,
  grams,
  gramsPerLitre,
  hours,
  kilowattHours,
  litres,
  massPercent,
  squareMillimetres,
  volts,
  watts,
} from "@/lib/units";
import { type AnodeUse, workedAnodeLife } from "./anode-life";
import { saltForBath, strengthFromSaltPerLitre } from "./density";
import {
  anodeMassDissolved,
  chargePassed,
  electricalEnergy,
  heatingRate,
  hydrogenVolume,
} from "./faraday";
import { leadAmpacity } from "./leads";
import { anhydrousMass, toKitchen, usualDose } from "./salts";
import { solubility } from "./solubility";
import { openingNeeded } from "./ventilation";
import { bathTemperature } from "./warming";
import { workedConductivity, workedOperatingPoint } from "./worked";
import { workedEnergyAtWall } from "./worked-gas";

const anode: AnodeUse = {
  initialMassG: 4000,
  replaceAtShare: 0.5,
  lostG: 1000,
  lostErrorG: 0,
  weeklyLossesG: [50],
  lossFactorErrorShare: 0,
};
const bath = { heatW: 100, volumeL: 100, surfaceM2: 1, roomC: 18 };
const life = (change: Partial<AnodeUse>) => () => workedAnodeLife({ ...anode, ...change });

/** What is refused, and the name, the unit and the value that the error gives. */
const REFUSED: readonly (readonly [string, () => unknown, RegExp])[] = [
  ["a current below nought", () => chargePassed(amperes(-1), hours(1)), /current .*\(A\), got -1/],
  ["a time below nought", () => chargePassed(amperes(1), hours(-1)), /duration .*\(h\), got -1/],
  ["a charge below nought", () => anodeMassDissolved(ampereHours(-1)), /charge .*\(A·h\), got -1/],
  [
    "more iron than the charge dissolves",
    () => anodeMassDissolved(ampereHours(1), 1.5),
    /dissolving share must be from 0 to 1 \(share\), got 1.5/,
  ],
  [
    "energy of a charge below nought",
    () => electricalEnergy(ampereHours(-1), volts(1)),
    /charge .*\(A·h\), got -1/,
  ],
  [
    "energy at volts below nought",
    () => electricalEnergy(ampereHours(1), volts(-1)),
    /voltage .*\(V\), got -1/,
  ],
  ["a bath of nothing", () => heatingRate(watts(1), litres(0)), /volume of the bath .* L, got 0/],
  [
    "gas below the absolute nought",
    () => hydrogenVolume(ampereHours(1), celsius(-300)),
    /absolute temperature .* K, got/,
  ],
  [
    "gas without pressure",
    () => hydrogenVolume(ampereHours(1), celsius(20), 0),
    /pressure .* Pa, got 0/,
  ],
  [
    "salt below nought",
    () => anhydrousMass("SODA_ASH_LIGHT", grams(-1)),
    /mass of salt .*\(g\), got -1/,
  ],
  [
    "cups of salt below nought",
    () => toKitchen("SODA_ASH_LIGHT", grams(-1), "CUP"),
    /mass of salt .*\(g\), got -1/,
  ],
  [
    "a dose for less than nothing",
    () => usualDose(litres(-1)),
    /volume of the bath .*\(L\), got -1/,
  ],
  [
    "more salt than the tables hold",
    () => strengthFromSaltPerLitre("SODIUM_CARBONATE", gramsPerLitre(900)),
    /salt in a litre must be from 0 to [\d.]+ g\/L, got 900/,
  ],
  [
    "salt for a bath of nothing",
    () => saltForBath("SODIUM_CARBONATE", litres(0), massPercent(1)),
    /volume of the bath .* L, got 0/,
  ],
  [
    "solubility in steam",
    () => solubility("SODIUM_CARBONATE", celsius(101)),
    /temperature must be from 0 to 100 °C, got 101/,
  ],
  ["air below nought", () => openingNeeded(cubicMetresPerHour(-1)), /airflow .*\(m³\/h\), got -1/],
  [
    "a wall that keeps all heat",
    () => bathTemperature(bath, hours(1), 0),
    /heat loss .* W\/\(m²·K\), got 0/,
  ],
  ["a lead of no area", () => leadAmpacity(squareMillimetres(0)), /wire area .* mm², got 0/],
  [
    "energy below nought",
    () => workedEnergyAtWall(kilowattHours(-1), 0.7),
    /energy at the supply's output .*\(kW·h\), got -1/,
  ],
  [
    "a supply that makes energy",
    () => workedEnergyAtWall(kilowattHours(1), 1.2),
    /efficiency .*\(share\), got 1.2/,
  ],
  ["an anode of nothing", life({ initialMassG: 0 }), /mass when new .* g, got 0/],
  [
    "an anode changed at once",
    life({ replaceAtShare: 0 }),
    /lost at replacement .*of the mass, got 0/,
  ],
  [
    "an anode changed late",
    life({ replaceAtShare: 2 }),
    /lost at replacement .*of the mass, got 2/,
  ],
  ["an anode that grew", life({ lostG: -1 }), /lost so far .*\(g\), got -1/],
  ["a loss known too well", life({ lostErrorG: -1 }), /error of what was lost .*\(g\), got -1/],
  [
    "a factor known too well",
    life({ lossFactorErrorShare: -1 }),
    /error of the loss factor .*of the factor.*got -1/,
  ],
  ["a week that gave iron back", life({ weeklyLossesG: [-1] }), /weekly loss .*\(g\), got -1/],
  ["a sheet of nothing", life({ thickness: { newMm: 0, leastMm: 0 } }), /when new .* mm, got 0/],
  [
    "a sheet thinner new than worn",
    life({ thickness: { newMm: 1, leastMm: 2 } }),
    /least thickness must be from 0 to 1 mm, got 2/,
  ],
];

describe("electrolysis refuses", () => {
  it.each(REFUSED)("%s", (_what, call, words) => {
    expect(call).toThrow(RangeError);
    expect(call).toThrow(words);
  });
});

describe("working of a bath says", () => {
  const salts = (carbonateMassG: number, bicarbonateMassG: number) =>
    workedConductivity({ carbonateMassG, bicarbonateMassG, volumeL: 20, temperatureC: 20 });
  const named = (worked: ReturnType<typeof salts>) =>
    worked.inputs.filter(({ symbol }) => symbol === "α").map(({ name, source }) => [name, source]);

  it("how each salt gains with warmth, and from where, of the salts that are in it", () => {
    const soda = ["gain a kelvin, carbonate", "Kohlrausch and Holborn, rounded (from memory)"];
    const bicarbonate = ["gain a kelvin, bicarbonate", "usual for salts in water (from memory)"];
    expect(named(salts(100, 0))).toEqual([soda]);
    expect(named(salts(0, 100))).toEqual([bicarbonate]);
    expect(named(salts(50, 50))).toEqual([soda, bicarbonate]);
  });

  it("what holds the current down, and what low and high are", () => {
    const { note } = workedOperatingPoint({
      supply: { kind: "BENCH", voltageV: 12, currentLimitA: 2, dutyFactor: 0.8 },
      conductivitySPerM: 0.5,
      shapeLengthM: 0.6,
      partAreaM2: 0.1,
      anodeAreaM2: 0.05,
      leadOhm: 0.02,
      contactOhm: 0.02,
      dissolvingShare: 0.5,
    });
    expect(note).toMatch(/^Held down most by /);
    expect(note).toMatch(/passive anode.*active/);
  });
});
