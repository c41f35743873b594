import {
  conductivity,
  fromKitchen,
  type Salt,
  SALTS,
  saltPerLitre,
  solubility,
  solutionDensity,
  strongestSolution,
} from "@/lib/electrolysis";
import { celsius, massPercent } from "@/lib/units";
import { describe, expect, it } from "vitest";

const kappa = (salt: Salt, strength: number, temperature = 20): number =>
  conductivity(salt, massPercent(strength), celsius(temperature));

describe("conductivity: CRC Handbook, Electrical Conductivity of Aqueous Solutions, p. 5-71, mS/cm at 20 °C", () => {
  it.each([
    [0.5, 7.0],
    [1, 13.1],
    [2, 23.3],
    [5, 47.0],
    [10, 74.4],
    [15, 88.6],
  ])("sodium carbonate at %s mass %", (strength, millisiemens) => {
    expect(kappa("SODIUM_CARBONATE", strength)).toBeCloseTo(millisiemens / 10, 10);
  });

  // This row is from memory of the same table.
  it.each([
    [0.5, 4.2],
    [1, 8.2],
    [2, 15.0],
    [5, 31.4],
  ])("sodium bicarbonate at %s mass %", (strength, millisiemens) => {
    expect(kappa("SODIUM_BICARBONATE", strength)).toBeCloseTo(millisiemens / 10, 10);
  });
});

describe("conductivity away from 20 °C: Kohlrausch and Holborn (from memory), mS/cm at 18 °C", () => {
  // Another laboratory's data: within 3 %, inside the ± 10 % shown. Their factor is steeper at high strength.
  it.each([
    [5, 45.1],
    [10, 70.5],
    [15, 83.6],
  ])("sodium carbonate at %s mass %", (strength, millisiemens) => {
    const ratio = kappa("SODIUM_CARBONATE", strength, 18) / (millisiemens / 10);
    expect(Math.abs(ratio - 1)).toBeLessThan(0.03);
  });
});

describe("Kohlrausch's ceiling: κ never exceeds Λ₀·c", () => {
  // Λ₀ per mole at 25 °C, S·m²/mol, summed from CRC Handbook, Ionic Conductivity and Diffusion at Infinite
  // Dilution: Na⁺ 50.08, ½ CO₃²⁻ 69.3, HCO₃⁻ 44.5 S·cm²/mol.
  const ceiling: Record<Salt, { limiting: number; molarMass: number }> = {
    SODIUM_CARBONATE: { limiting: (2 * 50.08 + 2 * 69.3) * 1e-4, molarMass: 105.988 },
    SODIUM_BICARBONATE: { limiting: (50.08 + 44.5) * 1e-4, molarMass: 84.006 },
  };

  it.each(SALTS)("%s, and the share of it falls as the solution gets stronger", (salt) => {
    const { limiting, molarMass } = ceiling[salt];
    const most = strongestSolution(salt, celsius(25));
    let before = 1;
    for (let step = 1; step <= 100; step += 1) {
      const strength = (most * step) / 100;
      const molesPerCubicMetre = (1000 * saltPerLitre(salt, massPercent(strength))) / molarMass;
      const share = kappa(salt, strength, 25) / (limiting * molesPerCubicMetre);
      expect(share).toBeLessThan(before + 1e-3);
      before = share;
    }
    expect(before).toBeGreaterThan(0.2);
  });
});

describe("density: CRC Handbook, 102nd ed., Concentrative Properties of Aqueous Solutions, g/cm³ at 20 °C", () => {
  it.each<[Salt, number, number, number, number]>([
    // salt, mass %, density, mol/L, molar mass
    ["SODIUM_CARBONATE", 0.5, 1.0034, 0.047, 105.988],
    ["SODIUM_CARBONATE", 1, 1.0086, 0.095, 105.988],
    ["SODIUM_CARBONATE", 2, 1.019, 0.192, 105.988],
    ["SODIUM_CARBONATE", 5, 1.0502, 0.495, 105.988],
    ["SODIUM_CARBONATE", 10, 1.1029, 1.041, 105.988],
    ["SODIUM_CARBONATE", 15, 1.1574, 1.638, 105.988],
    ["SODIUM_BICARBONATE", 0.5, 1.0018, 0.06, 84.006],
    ["SODIUM_BICARBONATE", 2, 1.0125, 0.241, 84.006],
    ["SODIUM_BICARBONATE", 6, 1.0408, 0.743, 84.006],
  ])("%s at %s mass %", (salt, strength, density, molar, molarMass) => {
    expect(solutionDensity(salt, massPercent(strength))).toBeCloseTo(density, 10);
    // The table's own molar column checks our g/L; it is printed to 0.001 mol/L.
    expect(saltPerLitre(salt, massPercent(strength)) / molarMass).toBeCloseTo(molar, 2.9);
  });
});

describe("solubility, g in 100 g of water", () => {
  // Carbonate at 20 °C from a maker's data sheet: 17.7 % by mass.
  it("of carbonate at 20 °C is a maker's 17.7 % by mass", () => {
    const dissolved = solubility("SODIUM_CARBONATE", celsius(20));
    expect((100 * dissolved) / (100 + dissolved)).toBeCloseTo(17.7, 0);
  });

  // Handbook values; bicarbonate: Seidell, Solubilities of Inorganic Compounds.
  it.each<[Salt, number, number]>([
    ["SODIUM_CARBONATE", 0, 7.0],
    ["SODIUM_CARBONATE", 30, 39.7],
    ["SODIUM_CARBONATE", 35.4, 49.7],
    ["SODIUM_CARBONATE", 100, 44.7],
    ["SODIUM_BICARBONATE", 0, 6.9],
    ["SODIUM_BICARBONATE", 20, 9.6],
    ["SODIUM_BICARBONATE", 50, 14.45],
  ])("%s at %s °C", (salt, temperature, dissolved) => {
    expect(solubility(salt, celsius(temperature))).toBeCloseTo(dissolved, 10);
  });
});

describe("kitchen measures: USDA FoodData Central, leavening agents, baking soda (from memory)", () => {
  it("a teaspoon of baking soda is 4.6 g", () => {
    expect(fromKitchen("BAKING_SODA", 1, "TEASPOON").massG).toBeCloseTo(4.6, 2);
  });
});
