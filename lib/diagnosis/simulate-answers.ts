import { Dice } from "./simulate-dice";
import type { SimulatedFault } from "./simulate-faults";

/** What a person would find at the tank, by check: what each fault looks like, and what everything else does. */
const FOUND: Readonly<
  Record<string, Readonly<Partial<Record<SimulatedFault, string>>> & { readonly else: string }>
> = {
  METER: { POOR_CONTACT: "jumps", else: "steady" },
  SUPPLY: { SUPPLY_OFF: "off", else: "on" },
  LEVEL: { LEVEL_FALLEN: "low", else: "fine" },
  GAP: { TOUCHING: "none", else: "clear" },
  LEADS: { REVERSED: "wrong", else: "right" },
  SLUDGE: { BATH_SPENT: "dark", else: "clear" },
  CONDUCTIVITY: { BATH_WEAK: "low", BATH_STRONG: "high", else: "right" },
  CLAMP: { LEAD_CORRODED: "green", LEAD_OPEN: "green", else: "bright" },
  CLIP: { POOR_CONTACT: "back", else: "same" },
  ANODE: { ANODE_PASSIVE: "scaled", ANODE_WORN: "thin", else: "sound" },
};

/** Eyes err once in ten. */
const WRONG = 0.1;

/**
 * How somebody answers a check on a simulated tank.
 * @param codes the outcomes to choose from
 */
export function simulateAnswer(
  seed: number,
  fault: SimulatedFault,
  check: string,
  codes: readonly string[],
): string {
  const dice = new Dice(seed ^ 0x5bd1e995);
  const found = FOUND[check];
  if (!found) throw new RangeError(`check must be a known one, got ${check}`);
  const right = found[fault] ?? found.else;
  const others = codes.filter((code) => code !== right);
  const [first, ...rest] = others;
  return first !== undefined && dice.chance(WRONG) ? dice.oneOf([first, ...rest]) : right;
}
