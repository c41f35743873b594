import type { Metres } from "@/lib/units";
import type { Bathful } from "./bathful";
import { buildScene, type BuiltScene } from "./build-scene";
import { distributions, type PartDistribution, patchDensities } from "./distribution";
import { Hollow } from "./hollow";
import { insidePatches } from "./inside";
import { type PolarisedDrive, solvePolarised } from "./polarised";
import { prepare, type Prepared, shapeLength } from "./potential";
import type { Cancel } from "./scene";
import { wearByHeight, type WearBand } from "./wear";

/** What is asked of a bath that is solved for figures. */
export const FIGURE_TOLERANCE = 1e-5;
const WEAR_BANDS = 6;

/** A polarised solution's figures. */
export type FieldFigures = {
  /** In the order of the bath's parts. */
  readonly parts: readonly PartDistribution[];
  /** Of the bath's first anode, from the floor up. */
  readonly wear: readonly WearBand[];
};

/** A bath cut into cells once, for as many questions as there are. */
export class BathField {
  readonly cells: number;
  private readonly scene: BuiltScene;
  private readonly prepared: Prepared;
  private inside: Uint8Array | undefined;

  /** @throws RangeError as `buildScene` */
  constructor(
    private readonly bathful: Bathful,
    cells: number,
    private readonly cancel?: Cancel,
  ) {
    this.scene = buildScene(bathful, cells);
    this.cells = this.scene.cells.length;
    this.prepared = prepare(this.scene);
  }

  /** All anodes against all parts, clean metal. */
  shapeLength(): Metres {
    return shapeLength(this.prepared, { tolerance: FIGURE_TOLERANCE, cancel: this.cancel });
  }

  /** @throws Cancelled when told to end */
  figures(drive: PolarisedDrive): FieldFigures {
    const { faceCurrentA, electrodeCurrentA } = solvePolarised(this.prepared, drive, {
      tolerance: FIGURE_TOLERANCE,
      cancel: this.cancel,
    });
    this.inside ??= insidePatches(this.scene);
    const densities = patchDensities(this.scene, faceCurrentA, this.inside);
    return {
      parts: distributions(this.scene, densities, electrodeCurrentA),
      wear: wearByHeight(this.scene, faceCurrentA, 0, WEAR_BANDS),
    };
  }

  /** The hollow of the bath's first part. */
  hollow(): Hollow {
    return new Hollow(this.scene, this.bathful.anodes.length);
  }

  /** Gives its memory back: it answers no more questions. */
  release(): void {
    this.prepared.release();
  }
}
