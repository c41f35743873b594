/** One thing that somebody must see to, and say so, before current may flow. */
export type SafetyCheck = {
  readonly code: string;
  readonly text: string;
  readonly why: string;
};

/**
 * What is acknowledged, item by item, by the person who loads: usual cautions of the work. Local codes and licensed
 * practice come first.
 */
export const SAFETY_CHECKS: readonly SafetyCheck[] = [
  {
    code: "EYES_AND_HANDS",
    text: "Goggles and gloves are on.",
    why: "Soda and what comes off the part irritate eyes and skin.",
  },
  {
    code: "AIR",
    text: "The room is open or the fan runs; nothing lies over the tank.",
    why: "Hydrogen and oxygen rise from the bath. A lid or foam gathers them.",
  },
  {
    code: "NO_SPARKS",
    text: "No flame, grinder, cigarette or other spark is near.",
    why: "Hydrogen burns in air from 4 %.",
  },
  {
    code: "SUPPLY_OFF",
    text: "The supply is off while clips are moved.",
    why: "A clip that slips under current makes a spark over the gas.",
  },
  {
    code: "POLARITY",
    text: "The negative lead is on the part, the positive lead on the anode.",
    why: "The other way round the part is eaten. Check the leads with a meter if in doubt.",
  },
  {
    code: "CLIP_DRY",
    text: "The positive clip is above the liquid.",
    why: "Copper and clip dissolve in the bath, and the contact goes.",
  },
  {
    code: "NO_TOUCH",
    text: "The part hangs clear of the anode all round.",
    why: "A touch is a short: the supply trips or burns.",
  },
  {
    code: "MILD_STEEL",
    text: "The anode is plain mild steel: not stainless, not plated, not galvanised.",
    why: "Stainless puts chromium(VI), which is poisonous, in the bath.",
  },
  {
    code: "DRY_PLACE",
    text: "The supply stands dry, on a protected outlet, and its leads are sound.",
    why: "Mains and wet hands: use a residual-current device (GFCI).",
  },
];
