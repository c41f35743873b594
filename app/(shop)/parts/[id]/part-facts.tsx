import type { partById } from "@/lib/services";
import {
  COATING_NAMES,
  GOAL_NAMES,
  HAZARD_NAMES,
  MATERIAL_NAMES,
  PART_SHAPE_NAMES,
  RUST_GRADE_WORDS,
} from "@/lib/treatment";
import { Facts } from "@/app/ui";
import { formatMeasure } from "@/lib/units";
import { massWords, sizeWords, type UnitSystem } from "../../measures";

type Props = {
  readonly part: Awaited<ReturnType<typeof partById>>;
  readonly units: UnitSystem;
};

/** What was said of a part when it was taken in. */
export function PartFacts({ part, units }: Props) {
  return (
    <Facts
      facts={[
        { label: "Pieces", value: part.quantity },
        { label: "Shape", value: PART_SHAPE_NAMES[part.shape] },
        { label: "Size", value: sizeWords([part.lengthMm, part.widthMm, part.heightMm], units) },
        {
          label: "Wall",
          value: part.wallMm === null ? null : formatMeasure("thickness", part.wallMm, units),
        },
        { label: "Mass", value: part.massG === null ? null : massWords(part.massG, units) },
        { label: "Made of", value: MATERIAL_NAMES[part.material] },
        { label: "Hardness", value: measured(part.hardnessHrc, "HRC") },
        {
          label: "Tensile strength",
          value: part.tensileMpa === null ? null : formatMeasure("stress", part.tensileMpa, units),
        },
        { label: "Rust", value: `${part.rustGrade}: ${RUST_GRADE_WORDS[part.rustGrade]}` },
        { label: "On it", value: names(part.coatings, COATING_NAMES) },
        { label: "To be careful of", value: names(part.hazards, HAZARD_NAMES) },
        { label: "Wanted", value: GOAL_NAMES[part.goal] },
        { label: "Notes", value: part.notes },
      ]}
    />
  );
}

const measured = (value: number | null, unit: string): string | null =>
  value === null ? null : `${value} ${unit}`;

const names = <Code extends string>(
  codes: readonly Code[],
  words: Readonly<Record<Code, string>>,
): string => codes.map((code) => words[code]).join(", ");
