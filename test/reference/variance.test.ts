/**
 * Quantity and price of a difference, against the worked example of a textbook: the jacket maker of Horngren, Datar and
 * Rajan, Cost Accounting, chapter on flexible budgets and direct-cost variances (quoted from memory).
 */
import { describe, expect, it } from "vitest";
import { type CostLine, varianceOf } from "@/lib/pricing";

function example(standard: { quantity: number; price: number }, actual: typeof standard) {
  const minor = (of: typeof standard): number => of.quantity * of.price * 100;
  const worked: CostLine["worked"] = {
    name: "tank time",
    value: 0,
    unit: "USD",
    formula: "C = q · r",
    inputs: [
      {
        name: "quantity",
        symbol: "q",
        value: standard.quantity,
        unit: "h",
        standing: "assumption",
      },
    ],
    standing: "assumption",
  };
  const line = {
    kind: "TANK_TIME",
    estimatedMinor: minor(standard),
    actualMinor: minor(actual),
    varianceMinor: minor(actual) - minor(standard),
    variancePercent: null,
    worked,
  } as const;
  const estimate: CostLine = { kind: "TANK_TIME", minor: minor(standard), worked };
  return varianceOf(line, [estimate], actual.quantity);
}

describe("quantity and price of a difference", () => {
  it("direct materials: 44 400 favourable by price, 66 000 unfavourable by efficiency", () => {
    // 20 000 square yards budgeted for the output at 30; 22 200 used at 28.
    const found = example({ quantity: 20_000, price: 30 }, { quantity: 22_200, price: 28 });
    expect(found).toMatchObject({ priceMinor: -4_440_000, quantityMinor: 6_600_000 });
  });

  it("direct labour: 18 000 unfavourable by price, 20 000 unfavourable by efficiency", () => {
    // 8 000 hours budgeted for the output at 20; 9 000 worked at 22.
    const found = example({ quantity: 8000, price: 20 }, { quantity: 9000, price: 22 });
    expect(found).toMatchObject({ priceMinor: 1_800_000, quantityMinor: 2_000_000 });
  });
});
