/** Figures with their working, in the units of a system. */
import { formatMeasure, shownUnit } from "./measure-format";
import { unitOf, type UnitSystem } from "./measure-kinds";
import { kindOfUnit } from "./measure-signs";
import type { MeasureUnit } from "./measure-units";
import { formatNumber } from "./number";
import type { Worked, WorkedInput } from "./worked";

/** Money for an amount: "EUR/kg". */
const PRICE = /^([A-Z]{3})\/(kg|L|m²)$/;
const PRICED: Readonly<Record<string, MeasureUnit>> = {
  kg: unitOf("partMass", "lb"),
  L: unitOf("volume", "US gal"),
  "m²": unitOf("area", "ft²"),
};

/** "g/d" is "g" a day. */
const RATE = /^(g|mL|mm|L|K)(\/(?:d|h|week))$/;

type Asked = { readonly unit: string; readonly name: string; readonly size: number };
type Other = { readonly sign: string; readonly from: (value: number) => number };

/** What a metric unit is for a US reader; null where it is the same for all. */
const other = (asked: Asked): Other | null => otherPrice(asked.unit) ?? otherMeasure(asked);

function otherPrice(unit: string): Other | null {
  const [, currency = "", priced = ""] = PRICE.exec(unit) ?? [];
  const one = PRICED[priced];
  if (!one) return null;
  const times = kindOfUnit(priced)?.times ?? 1;
  return { sign: `${currency}/${one.sign}`, from: (value) => (value * one.toSi(1)) / times };
}

function otherMeasure({ unit, name, size }: Asked): Other | null {
  const [, base = unit, rate = ""] = RATE.exec(unit) ?? [];
  // Gas and liquid are both told in litres.
  const gas = base === "L" && /hydrogen|gas/.test(name);
  const known = gas ? { kind: "gas" as const, times: 1 } : kindOfUnit(base);
  if (!known) return null;
  const { kind, times } = known;
  const to = shownUnit(kind, Math.abs(size) * times, "US");
  return { sign: `${to.sign}${rate}`, from: (value) => to.fromSi(value * times) };
}

/**
 * A figure in the units of a system: its value, its range and its inputs. A formula holds for the metric values,
 * which stay beside the others.
 *
 * @example workedIn(solution, "US") // 16.4 US gal, where it was 62 L
 */
export function workedIn(worked: Worked, system: UnitSystem): Worked {
  if (system === "METRIC") return worked;
  const { name, unit, value, low, high, note } = worked;
  const inputs = worked.inputs.map(inputInUs);
  const us = other({ unit, name, size: value });
  if (!us) return { ...worked, inputs };
  const metric = `Worked in metric units: ${formatNumber(value)} ${unit}.`;
  return {
    ...worked,
    inputs,
    value: us.from(value),
    unit: us.sign,
    ...(low === undefined ? {} : { low: us.from(low) }),
    ...(high === undefined ? {} : { high: us.from(high) }),
    note: note === undefined ? metric : `${note} ${metric}`,
  };
}

function inputInUs(input: WorkedInput): WorkedInput {
  const { unit, ...rest } = input;
  if (unit === undefined || typeof input.value !== "number") return input;
  const us = other({ unit, name: input.name, size: input.value });
  if (!us) return input;
  const metric = `${formatNumber(input.value)} ${unit}`;
  const known = kindOfUnit(unit);
  const first =
    known?.kind === "section" || known?.kind === "length"
      ? formatMeasure(known.kind, input.value * known.times, "US")
      : `${formatNumber(us.from(input.value))} ${us.sign}`;
  return { ...rest, value: first === metric ? metric : `${first} (${metric})` };
}
