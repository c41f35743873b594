import type { PartDescription } from "./part";
import { BAKE_FROM_HRC, BAKE_FROM_MPA, reliefBake } from "./relief-bake";
import { has, LOCAL, made, PRACTICE, type Rule } from "./rule";

const bakeOf = (part: PartDescription) => reliefBake(part.tensileMpa, part.hardnessHrc);
const strong = (part: PartDescription): boolean =>
  made("HARDENED_STEEL", "SPRING_STEEL")(part) ||
  has("HIGH_STRENGTH_FASTENER")(part) ||
  bakeOf(part) !== null;

/** Metals first: a wrong yes dissolves the part or poisons the bath. */
export const METAL_RULES: readonly Rule[] = [
  {
    id: "aluminium",
    title: "Aluminium dissolves",
    when: made("ALUMINIUM"),
    outcome: "REFUSE",
    absolute: true,
    reason: "Soda attacks aluminium and makes hydrogen, with or without current.",
    source: "MIL-STD-186F: no uninhibited alkali on aluminium",
    whatToDo: "Hand it back, or send it to somebody who blasts or acid-cleans aluminium.",
  },
  {
    id: "zinc",
    title: "Zinc and pot metal dissolve",
    when: made("ZINC_POT_METAL"),
    outcome: "REFUSE",
    absolute: true,
    reason: "Zinc alloys dissolve in strong alkali; die castings blister and crumble.",
    source: "amphoteric metals, general chemistry (from memory)",
    whatToDo: "Clean by hand with a mild soap; do not soak.",
  },
  {
    id: "magnesium",
    title: "Magnesium has no place here",
    when: made("MAGNESIUM"),
    outcome: "REFUSE",
    absolute: true,
    reason: "Soda ash and magnesium do not go together, and its dust and gas burn.",
    source: "ILO ICSC 1135 (sodium carbonate: reacts with magnesium)",
    whatToDo: "Hand it back.",
  },
  {
    id: "galvanised",
    title: "The zinc coat will go",
    when: made("GALVANISED_STEEL"),
    outcome: "REFUSE",
    reason:
      "Alkali strips galvanising: the coat that protects the part is lost and zinc fouls the bath.",
    source: "amphoteric metals, general chemistry (from memory)",
    whatToDo:
      "Refuse, unless the customer wants the zinc gone: that is a job for a galvaniser's stripping line.",
  },
  {
    id: "lead-solder",
    title: "Lead, solder and terne",
    when: made("LEAD_TIN_SOLDER", "TERNE_STEEL"),
    outcome: "REFUSE",
    absolute: true,
    reason: "Lead and tin dissolve slowly in alkali and leave lead in the bath and the sludge.",
    source: "29 CFR 1910.1025 (lead in general industry)",
    caution: LOCAL,
    whatToDo: "Hand it back.",
  },
  {
    id: "stainless",
    title: "Stainless steel",
    when: made("STAINLESS_STEEL"),
    outcome: "REFUSE",
    absolute: true,
    reason:
      "It does not need this bath, and if the leads were ever crossed it would give off chromate (chromium VI) as an anode.",
    source: "29 CFR 1910.1026 (chromium VI); transpassive dissolution from memory of Pourbaix",
    caution: "Never hang stainless steel as an anode.",
    whatToDo: "Clean by other means; keep stainless out of the tanks altogether.",
  },
  {
    id: "plated",
    title: "Chrome or nickel plate",
    when: made("CHROME_NICKEL_PLATED"),
    outcome: "CONDITION",
    reason:
      "Plate lifts where rust has crept under it. With the leads crossed, chromium plate gives off chromate.",
    source: "29 CFR 1910.1026 (chromium VI)",
    caution: "Check the polarity with a meter before and after connecting: the part is NEGATIVE.",
    whatToDo: "Agree in writing that loose plate will come off. Two people check the polarity.",
  },
  {
    id: "tinned",
    title: "Tin coat",
    when: made("TINNED_STEEL"),
    outcome: "CONDITION",
    reason: "Tin is thinned by warm alkali; worn places grow.",
    source: PRACTICE,
    whatToDo:
      "Agree that the tin may be lost; keep the bath cool, the time short, and look every hour.",
  },
  {
    id: "enamelled",
    title: "Vitreous enamel",
    when: made("ENAMELLED_IRON"),
    outcome: "CONDITION",
    reason: "Hydrogen made under chipped enamel lifts more of it.",
    source: PRACTICE,
    whatToDo: "Agree that the enamel may chip further. Mask nothing: trapped bath creeps.",
  },
  {
    id: "brass-copper",
    title: "Copper alloys",
    when: made("BRASS_BRONZE", "COPPER"),
    outcome: "CONDITION",
    reason:
      "Brass may lose zinc and darken, and copper in the bath plates onto the next iron part. The hours are for iron: here they tell nothing.",
    source: "Metal Finishing Guidebook 2013, Table I (other current densities for copper alloys)",
    caution: "Try a magnet all over: plated or hidden steel in it is a reason to refuse.",
    whatToDo:
      "Alone in its load, in a bath kept for copper alloys, at low current and looked at every quarter of an hour. Never with steel, and never where steel in it is in doubt.",
  },
  {
    id: "unknown",
    title: "Metal not known",
    when: made("UNKNOWN"),
    outcome: "REFER",
    reason: "Until it is known to be iron or steel it may dissolve or hurt somebody.",
    source: PRACTICE,
    whatToDo: "Magnet, file and spark test; enter what it is, and the verdict is made again.",
  },
];

/** Strong steel takes up hydrogen and may crack later. */
export const STRENGTH_RULES: readonly Rule[] = [
  {
    id: "too-strong",
    title: "Stronger than the bake table",
    when: (part) => bakeOf(part) === "too strong",
    outcome: "REFUSE",
    absolute: true,
    reason: "Above 1800 MPa or 51 HRC no bake is known to bring the hydrogen out.",
    source: "ASTM B850-98 table (guidance)",
    whatToDo: "Refuse: clean by blasting or by hand.",
  },
  {
    id: "strong-steel",
    title: "Hydrogen may crack it later",
    when: (part) => strong(part) && bakeOf(part) !== null && bakeOf(part) !== "too strong",
    outcome: "CONDITION",
    reason: `Steel of ${BAKE_FROM_MPA} MPa or ${BAKE_FROM_HRC} HRC and over takes up hydrogen in this bath and can crack days later, without warning.`,
    source: "ASTM B850-98 and B849 (hydrogen embrittlement; guidance)",
    caution:
      "A bake does not guarantee freedom from embrittlement. Baking can soften tempered tools.",
    whatToDo:
      "Relief bake at {190 to 220 °C} begun within 4 h of pulling, for the hours of the plan; record it.",
  },
  {
    id: "strength-unknown",
    title: "Strength not known",
    when: (part) => strong(part) && part.hardnessHrc === null && part.tensileMpa === null,
    outcome: "REFER",
    reason: "Hardened and spring steel must be baked by its strength, and that is not known.",
    source: "ASTM B850-98 (guidance)",
    whatToDo: "Measure the hardness, or look the grade up, and enter it.",
  },
  {
    id: "spring",
    title: "Works under tension",
    when: made("SPRING_STEEL"),
    outcome: "CONDITION",
    reason: "A spring spends its life stressed, where hydrogen does most harm.",
    source: "MIL-DTL-5002E 3.4.1.1 (parts under sustained tension)",
    whatToDo:
      "Never put it in while it is under tension. Display use only, unless a spring maker says otherwise.",
  },
  {
    id: "fastener",
    title: "High-strength bolt",
    when: has("HIGH_STRENGTH_FASTENER"),
    outcome: "REFUSE",
    reason: "Bolts of grade 10.9 and over are loaded near their strength; new ones are cheap.",
    source: "ASTM B850-98 scope (guidance)",
    whatToDo: "Replace with new bolts.",
  },
];
