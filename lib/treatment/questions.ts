import { HAZARDS, type Hazard, type Material, type PartShape } from "./codes";

/** What a question's answer may hang on. */
export type Asked = { readonly material: Material; readonly shape: PartShape };

/** Metals that are refused whatever else is true of the part: nothing more is asked. */
export const SETTLED_MATERIALS: readonly Material[] = [
  "ALUMINIUM",
  "ZINC_POT_METAL",
  "MAGNESIUM",
  "LEAD_TIN_SOLDER",
  "TERNE_STEEL",
  "STAINLESS_STEEL",
];

/** Shapes that can hold something; a solid may be a casting with a hollow in it. */
const HOLDING: readonly PartShape[] = ["BOX", "TUBE", "PAN", "SOLID"];
const STEELS: readonly Material[] = [
  "MILD_STEEL",
  "HARDENED_STEEL",
  "SPRING_STEEL",
  "GALVANISED_STEEL",
  "CHROME_NICKEL_PLATED",
  "UNKNOWN",
];
/** Metals whose name says already that they are not plated with cadmium. */
const PLATABLE: readonly Material[] = ["MILD_STEEL", "HARDENED_STEEL", "SPRING_STEEL", "UNKNOWN"];

/** For which shapes and metals a question matters; all of them where left out. */
const MATTERS: Partial<
  Record<
    Hazard,
    { readonly shapes?: readonly PartShape[]; readonly materials?: readonly Material[] }
  >
> = {
  SEALED_VOLUME: { shapes: HOLDING },
  HELD_FUEL: { shapes: HOLDING },
  ELECTRICAL: { shapes: ["SOLID", "BOX", "TUBE"] },
  MOVING_ASSEMBLY: { shapes: ["SOLID", "BOX", "TUBE", "RING", "BAR_GRID"] },
  HIGH_STRENGTH_FASTENER: { shapes: ["SOLID", "RING", "TUBE", "PLATE"], materials: STEELS },
  CADMIUM_PLATED: { materials: PLATABLE },
};

/**
 * Whether a question is asked of such a part: only where its answer could change what is done.
 *
 * @example isAsked("HELD_FUEL", { material: "MILD_STEEL", shape: "PLATE" }) // false
 */
export function isAsked(hazard: Hazard, { material, shape }: Asked): boolean {
  if (SETTLED_MATERIALS.includes(material)) return false;
  const { shapes, materials } = MATTERS[hazard] ?? {};
  return (shapes?.includes(shape) ?? true) && (materials?.includes(material) ?? true);
}

/**
 * The questions asked of such a part, in the order in which they are asked.
 * @example questionsFor({ material: "ALUMINIUM", shape: "BOX" }) // none: aluminium is refused in any case
 */
export function questionsFor(asked: Asked): readonly Hazard[] {
  return HAZARDS.filter((hazard) => isAsked(hazard, asked));
}
