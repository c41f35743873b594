/**
 * The words for parts: what they are made of, how they are shaped, what is on them and what is wrong with them.
 * The codes are stored; names and hints are what people read.
 */
export const MATERIALS = [
  "MILD_STEEL",
  "CAST_IRON",
  "WROUGHT_IRON",
  "HARDENED_STEEL",
  "SPRING_STEEL",
  "STAINLESS_STEEL",
  "GALVANISED_STEEL",
  "TINNED_STEEL",
  "TERNE_STEEL",
  "CHROME_NICKEL_PLATED",
  "ENAMELLED_IRON",
  "BRASS_BRONZE",
  "COPPER",
  "ALUMINIUM",
  "ZINC_POT_METAL",
  "MAGNESIUM",
  "LEAD_TIN_SOLDER",
  "UNKNOWN",
] as const;
export type Material = (typeof MATERIALS)[number];

export const MATERIAL_NAMES: Readonly<Record<Material, string>> = {
  MILD_STEEL: "mild steel",
  CAST_IRON: "cast iron",
  WROUGHT_IRON: "wrought iron",
  HARDENED_STEEL: "hardened or tool steel",
  SPRING_STEEL: "spring steel",
  STAINLESS_STEEL: "stainless steel",
  GALVANISED_STEEL: "galvanised steel (zinc coated)",
  TINNED_STEEL: "tinned steel",
  TERNE_STEEL: "terne (steel coated with lead and tin)",
  CHROME_NICKEL_PLATED: "chrome or nickel plated steel",
  ENAMELLED_IRON: "vitreous enamelled iron",
  BRASS_BRONZE: "brass or bronze",
  COPPER: "copper",
  ALUMINIUM: "aluminium",
  ZINC_POT_METAL: "zinc or pot metal",
  MAGNESIUM: "magnesium",
  LEAD_TIN_SOLDER: "lead, tin or solder",
  UNKNOWN: "not known",
};

/** Materials whose hardness decides: only for these is it asked. */
export const HARDNESS_MATTERS: readonly Material[] = ["HARDENED_STEEL", "SPRING_STEEL"];

export const PART_SHAPES = ["PLATE", "BAR_GRID", "BOX", "TUBE", "PAN", "RING", "SOLID"] as const;
export type PartShape = (typeof PART_SHAPES)[number];

export const PART_SHAPE_NAMES: Readonly<Record<PartShape, string>> = {
  PLATE: "plate or strap",
  BAR_GRID: "bars or lattice",
  BOX: "open box",
  TUBE: "tube",
  PAN: "pan or bowl",
  RING: "ring or wheel",
  SOLID: "solid block",
};

/** What each measure is on each shape, and whether a wall thickness is asked for. */
export const PART_SHAPE_HINTS: Readonly<
  Record<PartShape, { readonly measures: string; readonly wall: string | null }>
> = {
  PLATE: { measures: "length × width × thickness", wall: null },
  BAR_GRID: { measures: "outline length × width × depth", wall: "thickness of one bar" },
  BOX: { measures: "outside length × width × height, one side open", wall: "wall thickness" },
  TUBE: { measures: "length × outside diameter (twice), both ends open", wall: "wall thickness" },
  PAN: { measures: "outside diameter (twice) × height, top open", wall: "wall thickness" },
  RING: { measures: "outside diameter (twice) × height", wall: "breadth of the rim" },
  SOLID: { measures: "length × width × height of the box round it", wall: null },
};

/** ISO 8501-1:2007 rust grades; wording shortened. */
export const RUST_GRADES = ["A", "B", "C", "D"] as const;
export type RustGrade = (typeof RUST_GRADES)[number];

export const RUST_GRADE_WORDS: Readonly<Record<RustGrade, string>> = {
  A: "largely covered with adhering mill scale, little if any rust",
  B: "begun to rust, mill scale begun to flake",
  C: "mill scale rusted away or can be scraped off, slight pitting",
  D: "mill scale rusted away, general pitting",
};

export const COATINGS = [
  "OIL_PAINT",
  "SPRAY_ENAMEL",
  "BAKED_OR_POWDER",
  "VARNISH",
  "WAX_OR_GREASE",
  "LEAD_PAINT_SUSPECTED",
  "TAR_OR_BITUMEN",
] as const;
export type Coating = (typeof COATINGS)[number];

export const COATING_NAMES: Readonly<Record<Coating, string>> = {
  OIL_PAINT: "brushed oil paint",
  SPRAY_ENAMEL: "spray enamel",
  BAKED_OR_POWDER: "baked or powder coat",
  VARNISH: "varnish or lacquer",
  WAX_OR_GREASE: "wax or grease",
  LEAD_PAINT_SUSPECTED: "old paint that may hold lead",
  TAR_OR_BITUMEN: "tar or bitumen",
};

export const HAZARDS = [
  "SEALED_VOLUME",
  "HELD_FUEL",
  "OIL_SOAKED",
  "ASBESTOS_GASKET",
  "WOOD_RUBBER_LEATHER",
  "FIREARM",
  "SAFETY_CRITICAL",
  "PRESSURE_OR_LIFTING",
  "ARCHAEOLOGICAL",
  "SOLDERED_OR_BRAZED",
  "CRACKED_OR_WELDED",
  "MOVING_ASSEMBLY",
  "HIGH_STRENGTH_FASTENER",
  "ALUMINIUM_OR_ZINC_INSERTS",
  "CADMIUM_PLATED",
  "ELECTRICAL",
] as const;
export type Hazard = (typeof HAZARDS)[number];

export const HAZARD_NAMES: Readonly<Record<Hazard, string>> = {
  SEALED_VOLUME: "a closed hollow that cannot drain or vent",
  HELD_FUEL: "has held fuel or solvent",
  OIL_SOAKED: "soaked with oil",
  ASBESTOS_GASKET: "gasket or lining that may hold asbestos",
  WOOD_RUBBER_LEATHER: "wood, rubber, leather or cloth on it",
  FIREARM: "firearm or part of one",
  SAFETY_CRITICAL: "steering, brake, suspension or climbing part",
  PRESSURE_OR_LIFTING: "pressure vessel or lifting gear",
  ARCHAEOLOGICAL: "archaeological find or museum piece",
  SOLDERED_OR_BRAZED: "soldered or brazed joints",
  CRACKED_OR_WELDED: "cracked, or repaired by welding",
  MOVING_ASSEMBLY: "assembled moving parts, bearings or threads in place",
  HIGH_STRENGTH_FASTENER: "bolt or screw of grade 10.9 or stronger",
  ALUMINIUM_OR_ZINC_INSERTS: "aluminium or zinc pieces in it",
  CADMIUM_PLATED: "cadmium plated (yellowish or dull silver, old hardware)",
  ELECTRICAL: "motor, winding or other electrics in it",
};

export const GOALS = ["RUST_ONLY", "STRIP_TO_METAL"] as const;
export type Goal = (typeof GOALS)[number];

export const GOAL_NAMES: Readonly<Record<Goal, string>> = {
  RUST_ONLY: "take off the rust",
  STRIP_TO_METAL: "strip to bare metal, paint and all",
};
