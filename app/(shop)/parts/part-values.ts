import type { PartDescription } from "@/lib/treatment";

/** A part as its form is filled. */
export type PartValues = PartDescription & {
  readonly id: string;
  readonly description: string;
  readonly quantity: number;
  readonly notes: string;
};
