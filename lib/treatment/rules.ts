import type { Rule } from "./rule";
import { METAL_RULES, STRENGTH_RULES } from "./rules-metal";
import { HAZARD_RULES, USE_RULES } from "./rules-use";

/** The whole rule set, in the order in which findings are shown within one outcome. */
export const RULES: readonly Rule[] = [
  ...METAL_RULES,
  ...STRENGTH_RULES,
  ...USE_RULES,
  ...HAZARD_RULES,
];
