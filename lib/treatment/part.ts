import { checkNonNegative, checkPositive, type Worked, type WorkedInput } from "@/lib/units";
import type { Coating, Goal, Hazard, Material, PartShape, RustGrade } from "./codes";
import { type Hollow, insideLag } from "./hours";

/** One physical thing as it was taken in. Measures are of its outside, mm. */
export type PartDescription = {
  /** Alike pieces under one mark; all else here is of one of them. */
  readonly quantity: number;
  readonly shape: PartShape;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Wall, bar or rim; asked for hollow shapes only. */
  readonly wallMm: number | null;
  readonly massG: number | null;
  /** Measured area that takes the place of the formula. */
  readonly areaOverrideM2: number | null;
  /** Which of area and mass were taken over from the part's own drawing; none where left out. */
  readonly fromDrawing?: { readonly area: boolean; readonly mass: boolean };
  readonly material: Material;
  readonly hardnessHrc: number | null;
  readonly tensileMpa: number | null;
  readonly rustGrade: RustGrade;
  readonly coatings: readonly Coating[];
  readonly hazards: readonly Hazard[];
  readonly goal: Goal;
};

export type PartSize = Hollow & {
  /** All wetted faces, inside too. */
  readonly areaM2: Worked;
  readonly steelMassG: Worked;
};

/** Handbook density of plain steel, and of grey iron, g/cm³ (from memory of usual engineering tables). */
const DENSITY_G_PER_CM3 = { steel: 7.85, castIron: 7.2 } as const;
/** Real parts have edges, threads and bosses that the bare shape leaves out: assumption. */
const RELIEF_FACTOR = 1.1;
/** Wall assumed where none was given, as a share of the smallest measure: assumption. */
const USUAL_WALL_SHARE = 0.1;

/**
 * Wetted area, inside share and mass of a part from its shape and measures.
 *
 * @throws RangeError naming the measure that is out of range
 * @example sizePart(skillet).areaM2.value // about 0.2 m²
 */
export function sizePart(part: PartDescription): PartSize {
  checkPositive("length", part.lengthMm, "mm");
  checkPositive("width", part.widthMm, "mm");
  checkPositive("height", part.heightMm, "mm");
  if (part.wallMm !== null) checkPositive("wall", part.wallMm, "mm");
  if (part.massG !== null) checkPositive("mass", part.massG, "g");
  const form = FORMS[part.shape](measuresOf(part));
  return {
    areaM2: workedArea(part, form),
    insideShare: form.insideMm2 / (form.outsideMm2 + form.insideMm2),
    insideLag: form.insideLag ?? 1,
    steelMassG: workedMass(part, form),
  };
}

type Measures = { readonly l: number; readonly w: number; readonly h: number; readonly t: number };
type Form = {
  readonly outsideMm2: number;
  readonly insideMm2: number;
  /** where there is an inside */
  readonly insideLag?: number;
  readonly steelMm3: number;
  readonly formula: string;
};

function measuresOf(part: PartDescription): Measures {
  const smallest = Math.min(part.lengthMm, part.widthMm, part.heightMm);
  const wall = part.wallMm ?? smallest * USUAL_WALL_SHARE;
  return {
    l: part.lengthMm,
    w: part.widthMm,
    h: part.heightMm,
    t: Math.min(wall, smallest / 2),
  };
}

/** Area and volume by the textbook solid for each shape; l, w, h outside, t wall. */
const FORMS: Readonly<Record<PartShape, (m: Measures) => Form>> = {
  PLATE: ({ l, w, h }) => ({
    outsideMm2: 2 * (l * w + l * h + w * h),
    insideMm2: 0,
    steelMm3: l * w * h,
    formula: "2(l·w + l·h + w·h)",
  }),
  SOLID: ({ l, w, h }) => ({
    outsideMm2: 2 * (l * w + l * h + w * h),
    insideMm2: 0,
    // A casting fills about half of the box round it.
    steelMm3: 0.5 * l * w * h,
    formula: "2(l·w + l·h + w·h)",
  }),
  BAR_GRID: ({ l, w, h, t }) => {
    // Square bars t thick, about six bar widths apart along and across, bent to the depth.
    const barsMm = (Math.max(2, w / (6 * t)) * l + Math.max(2, l / (6 * t)) * w) * 0.6 + 2 * h;
    return {
      outsideMm2: 4 * t * barsMm,
      insideMm2: 0,
      steelMm3: t * t * barsMm,
      formula: "4·t·L, L = 0.6(n_l·l + n_w·w) + 2h, bars 6t apart",
    };
  },
  BOX: ({ l, w, h, t }) => {
    const outsideMm2 = l * w + 2 * (l + w) * h;
    const insideMm2 = (l - 2 * t) * (w - 2 * t) + 2 * (l + w - 4 * t) * (h - t);
    return {
      outsideMm2,
      insideMm2: Math.max(0, insideMm2),
      insideLag: insideLag(h, Math.min(l, w)),
      steelMm3: l * w * h - (l - 2 * t) * (w - 2 * t) * (h - t),
      formula: "outside l·w + 2(l + w)h, and the same inside the walls",
    };
  },
  TUBE: ({ l, w, t }) => ({
    outsideMm2: Math.PI * w * l,
    insideMm2: Math.PI * (w - 2 * t) * l,
    // Open at both ends: no place is deeper than half its length.
    insideLag: insideLag(l / 2, w),
    steelMm3: Math.PI * (w - t) * t * l,
    formula: "π·d·l outside, π(d − 2t)l inside",
  }),
  PAN: ({ l, h, t }) => {
    const inner = l - 2 * t;
    return {
      outsideMm2: (Math.PI / 4) * l * l + Math.PI * l * h,
      insideMm2: (Math.PI / 4) * inner * inner + Math.PI * inner * (h - t),
      insideLag: insideLag(h, l),
      steelMm3: (Math.PI / 4) * (l * l * h - inner * inner * (h - t)),
      formula: "π/4·d² + π·d·h outside, and the same inside the wall",
    };
  },
  RING: ({ l, h, t }) => {
    const inner = l - 2 * t;
    return {
      outsideMm2: Math.PI * (l + inner) * h + 2 * (Math.PI / 4) * (l * l - inner * inner),
      insideMm2: 0,
      steelMm3: (Math.PI / 4) * (l * l - inner * inner) * h,
      formula: "π(d + d_i)h + π/2(d² − d_i²)",
    };
  },
};

function workedArea(part: PartDescription, form: Form): Worked {
  if (part.areaOverrideM2 !== null) {
    checkPositive("area", part.areaOverrideM2, "m²");
    return {
      name: "area of the part",
      value: part.areaOverrideM2,
      unit: "m²",
      formula: part.fromDrawing?.area ? "A = sum of the drawing's triangles" : "as measured",
      inputs: [],
      standing: "entered here",
      ...(part.fromDrawing?.area && { source: "the part's own drawing" }),
    };
  }
  const bare = (form.outsideMm2 + form.insideMm2) / 1e6;
  return {
    name: "area of the part",
    value: bare * RELIEF_FACTOR,
    unit: "m²",
    low: bare * 0.85,
    high: bare * 1.35,
    formula: `A = ${RELIEF_FACTOR} × (${form.formula})`,
    inputs: measureInputs(part),
    standing: "assumption",
    source: "textbook solids; a tenth added for edges and bosses",
    note: "Wet area, inside and out. Measure it and enter it where the shape is far from these.",
  };
}

function measureInputs(part: PartDescription): WorkedInput[] {
  const measure = (name: string, symbol: string, value: number): WorkedInput => ({
    name,
    symbol,
    value,
    unit: "mm",
    standing: "entered here",
  });
  const inputs = [
    measure("length or diameter", "l", part.lengthMm),
    measure("width or diameter", "w", part.widthMm),
    measure("height", "h", part.heightMm),
  ];
  if (part.wallMm !== null) inputs.push(measure("wall, bar or rim", "t", part.wallMm));
  return inputs;
}

/** Of what a part is made of, g/cm³. @example densityOf("CAST_IRON") // 7.2 */
export function densityOf(material: Material): number {
  return material === "CAST_IRON" ? DENSITY_G_PER_CM3.castIron : DENSITY_G_PER_CM3.steel;
}

function workedMass(part: PartDescription, form: Form): Worked {
  if (part.massG !== null) {
    return {
      name: "mass of the part",
      value: part.massG,
      unit: "g",
      formula: part.fromDrawing?.mass ? "m = ρ·V, V enclosed by the drawing" : "as weighed",
      inputs: [],
      standing: "entered here",
      ...(part.fromDrawing?.mass && { source: "the part's own drawing" }),
    };
  }
  const density = densityOf(part.material);
  const volumeCm3 = form.steelMm3 / 1000;
  checkNonNegative("volume of the part", volumeCm3, "cm³");
  return {
    name: "mass of the part",
    value: volumeCm3 * density,
    unit: "g",
    low: volumeCm3 * density * 0.6,
    high: volumeCm3 * density * 1.4,
    formula: "m = ρ·V",
    inputs: [
      { name: "density", symbol: "ρ", value: density, unit: "g/cm³", standing: "handbook" },
      {
        name: "volume of metal",
        symbol: "V",
        value: Number(volumeCm3.toFixed(1)),
        unit: "cm³",
        standing: "assumption",
      },
    ],
    standing: "assumption",
    note: "Weigh the part where it matters: only displacement rests on this.",
  };
}
