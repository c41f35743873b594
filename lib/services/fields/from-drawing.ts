import type { MeshFacts, PartRow } from "@/lib/data";
import { densityOf, type PartDescription } from "@/lib/treatment";

/** Measures of a part as its own drawing has them: mm, m², g. */
export type DrawnMeasures = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly areaM2: number;
  readonly massG: number;
};

/** Box, area and mass of a drawn part; the mass takes all that the drawing encloses for metal of its kind. */
export function drawnMeasures(
  mesh: Pick<MeshFacts, "lengthM" | "widthM" | "heightM" | "areaM2" | "volumeM3">,
  material: PartDescription["material"],
): DrawnMeasures {
  const mm = (metres: number): number => Number((1000 * metres).toFixed(2));
  return {
    lengthMm: mm(mesh.lengthM),
    widthMm: mm(mesh.widthM),
    heightMm: mm(mesh.heightM),
    areaM2: Number(mesh.areaM2.toPrecision(6)),
    massG: Number((1e6 * mesh.volumeM3 * densityOf(material)).toPrecision(4)),
  };
}

/** Which of area and mass are the drawing's: as long as nobody has typed another one since. */
export function fromDrawing({
  mesh,
  material,
  areaOverrideM2,
  massG,
}: Pick<PartRow, "mesh" | "material" | "areaOverrideM2" | "massG">): {
  readonly area: boolean;
  readonly mass: boolean;
} {
  if (!mesh) return { area: false, mass: false };
  const drawn = drawnMeasures(mesh, material);
  return { area: areaOverrideM2 === drawn.areaM2, mass: massG === drawn.massG };
}
