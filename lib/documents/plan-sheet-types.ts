/** What a shape of a drawing is: a place with its hours, the bath in bands of equal volts, or metal. */
export type SheetInk = {
  readonly of: "HOURS" | "BATH" | "METAL" | "ANODE" | "DRY";
  /** HOURS: place in the legend. BATH: band from the part outwards. Otherwise 0. */
  readonly step: number;
};

/** A drawing in its own unit: x to the right and y up from its lower left corner; what is far comes first. */
export type SheetDrawing = {
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly {
    /** x and y of each corner. */
    readonly points: readonly number[];
    readonly ink: SheetInk;
  }[];
};

export type FieldPicture = {
  /** Upright cut through the middle of the part, along the tank. */
  readonly section: SheetDrawing;
  /** The part in space, from the front and above. */
  readonly space: SheetDrawing;
  /** What each step of hours means, the soonest clean first. */
  readonly legend: readonly string[];
  /** Whether some of it stands out of the bath in this dip. */
  readonly dry: boolean;
};

export type SheetFact = { readonly label: string; readonly value: string };

/** Rows of words under named columns. */
export type SheetTable = {
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Said where there is no row, or below the rows. */
  readonly note: string;
};

/** What the field says, in words; the picture is missing where it could not be drawn. */
export type SheetField = {
  /** Said above all else: that it is of before a change, or that it is not worked out yet. */
  readonly notice: string | null;
  readonly facts: readonly SheetFact[];
  readonly tables: readonly SheetTable[];
  readonly picture: FieldPicture | null;
};

/** A plan on paper for the bench. Everything is in words already, in the shop's units and customs. */
export type PlanSheet = {
  readonly shopName: string;
  readonly jobNumber: number;
  readonly mark: string;
  readonly description: string;
  readonly customerName: string;
  /** "Version 2, Dara Finch, 7 January 2030 09:12" */
  readonly made: string;
  /** Said first: that the plan no longer counts, or what else must be known. */
  readonly notices: readonly string[];
  /** "Blue tub: about 6 h, nine in ten within 11 h" */
  readonly answer: string;
  readonly facts: readonly SheetFact[];
  readonly cautions: readonly string[];
  readonly steps: readonly {
    readonly when: string;
    readonly steps: readonly {
      readonly title: string;
      readonly detail: string;
      readonly caution: string | null;
    }[];
  }[];
  readonly field: SheetField | null;
  readonly madeAt: Date;
};
