/** What the makers of the example shop's history share. */
import type { ExampleRows } from "@/lib/data";
import type { Random } from "./random";
import type { Stockroom } from "./stockroom";
import type { ExampleTank } from "./vessels";

/** How long back the history reaches. */
export const HISTORY_DAYS = 182;

export type World = {
  readonly rows: ExampleRows;
  readonly chance: Random;
  readonly now: Date;
  /** First day of the history. */
  readonly from: Date;
  readonly zone: string;
  readonly currency: string;
  readonly people: { readonly ownerId: string; readonly deskId: string; readonly benchId: string };
  readonly tanks: readonly TankInUse[];
  readonly stockroom: Stockroom;
};

/** One tank as its history goes on. */
export type TankInUse = ExampleTank & {
  /** No load may go in before. */
  freeFrom: Date;
  bath: BathInUse;
  /** Iron lost by the wall anode so far, g. */
  anodeLossG: number;
};

type BathRow = ExampleRows["baths"][number];
/** The row of the live bath; its charge grows as runs pass. */
export type BathInUse = BathRow & { readonly id: string; readonly mixedAt: Date; chargeAh: number };

type PartRow = ExampleRows["parts"][number];
/** A part's row as the history writes it. */
export type SeedPart = PartRow & { readonly id: string };

type JobRow = ExampleRows["jobs"][number];
export type SeedJob = JobRow & { readonly id: string; readonly number: number };

/** Writes an audit line. */
export function note(
  world: World,
  at: Date,
  personId: string,
  action: string,
  subjectId: string,
): void {
  const subjectType = action.split(".")[0] ?? action;
  world.rows.audit.push({ at, personId, action, subjectType, subjectId });
}
