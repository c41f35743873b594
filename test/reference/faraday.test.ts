import {
  anodeMassDissolved,
  FARADAY_CONSTANT,
  GAS_CONSTANT,
  hydrogenMass,
  hydrogenVolume,
  IRON,
  MOLAR_MASS,
  carbonateFromBicarbonate,
  gradeMass,
  oxygenMass,
  oxygenVolume,
  waterSplit,
  WATER_REVERSIBLE_V,
  WATER_THERMONEUTRAL_V,
} from "@/lib/electrolysis";
import { ampereHours, celsius, grams } from "@/lib/units";
import { describe, expect, it } from "vitest";

// The defining constants of the SI (9th brochure, 2019): exact.
const ELEMENTARY_CHARGE = 1.602176634e-19;
const AVOGADRO = 6.02214076e23;
const BOLTZMANN = 1.380649e-23;
const ONE = ampereHours(1);

describe("constants: SI brochure, 9th edition, and CODATA 2018", () => {
  it("Faraday is e × N_A, the gas constant k × N_A", () => {
    expect(FARADAY_CONSTANT).toBeCloseTo(ELEMENTARY_CHARGE * AVOGADRO, 5);
    expect(GAS_CONSTANT).toBeCloseTo(BOLTZMANN * AVOGADRO, 9);
  });
});

describe("one ampere-hour: Faraday's law with IUPAC abridged atomic weights", () => {
  it("dissolves 1.0418 g of iron as Fe²⁺ and 0.6946 g as Fe³⁺", () => {
    expect(anodeMassDissolved(ONE)).toBeCloseTo(1.0418, 4);
    expect(anodeMassDissolved(ONE, 1, { ...IRON, electronsPerAtom: 3 })).toBeCloseTo(0.69455, 4);
  });

  it("frees 0.0376 g of hydrogen and 0.2985 g of oxygen, and splits 0.3361 g of water", () => {
    expect(hydrogenMass(ONE)).toBeCloseTo(0.03761, 5);
    expect(oxygenMass(ONE)).toBeCloseTo(0.29847, 4);
    expect(waterSplit(ONE)).toBeCloseTo(0.33608, 4);
    expect(waterSplit(ONE, 1)).toBeCloseTo(0.67216, 4);
  });

  it("frees gas by the ideal gas law at each usual reference state", () => {
    expect(hydrogenVolume(ONE, celsius(0))).toBeCloseTo(0.41815, 4);
    expect(hydrogenVolume(ONE, celsius(0), 100_000)).toBeCloseTo(0.42369, 4);
    expect(hydrogenVolume(ONE, celsius(20))).toBeCloseTo(0.44876, 4);
    expect(hydrogenVolume(ONE, celsius(25))).toBeCloseTo(0.45642, 4);
    expect(oxygenVolume(ONE, celsius(25))).toBeCloseTo(0.22821, 4);
  });

  it("agrees with the molar volume of an ideal gas, 22.41397 L/mol at 0 °C and 101.325 kPa (CODATA 2018)", () => {
    const oneMole = ampereHours((2 * FARADAY_CONSTANT) / 3600);
    expect(hydrogenVolume(oneMole, celsius(0))).toBeCloseTo(22.41397, 4);
  });
});

describe("voltages of water splitting at 25 °C: CODATA key values for thermodynamics", () => {
  it("are 1.2288 V reversible and 1.4812 V thermoneutral", () => {
    expect(WATER_REVERSIBLE_V).toBeCloseTo(1.2288, 4);
    expect(WATER_THERMONEUTRAL_V).toBeCloseTo(1.4812, 4);
  });
});

describe("salts: molar masses from IUPAC atomic weights", () => {
  const [H, C, O, Na] = [1.008, 12.011, 15.999, 22.98976928];

  it("are the sums of their atoms", () => {
    expect(MOLAR_MASS.SODIUM_CARBONATE).toBeCloseTo(2 * Na + C + 3 * O, 2);
    expect(MOLAR_MASS.SODIUM_BICARBONATE).toBeCloseTo(Na + H + C + 3 * O, 2);
    expect(MOLAR_MASS.WATER).toBeCloseTo(2 * H + O, 3);
  });

  it("give the hydrates' masses and bicarbonate's yield", () => {
    expect(gradeMass("SODA_MONOHYDRATE", grams(1))).toBeCloseTo(124.003 / 105.988, 4);
    expect(gradeMass("WASHING_SODA_CRYSTALS", grams(1))).toBeCloseTo(286.138 / 105.988, 4);
    expect(carbonateFromBicarbonate(grams(1))).toBeCloseTo(0.6308, 4);
  });
});
