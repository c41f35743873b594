import type { FieldPicture } from "@/lib/documents";
import type { StlUnit } from "@/lib/field";
import type { CuttingAnswer, CuttingProblem } from "@/lib/stock";
import type { FieldFindings, FieldSubject } from "@/lib/treatment";
import type { HungInside } from "../fields/picture";
import type { ShapeRead } from "../fields/read-shape";
import type { AheadAnswer, AheadAsk } from "../schedule/ahead-in-thread";
import type { ImproveAnswer, ImproveAsk } from "../schedule/improve-in-thread";

/** What a thread can be asked, and what it then answers. */
export type ThreadJobs = {
  readonly field: {
    readonly ask: { readonly subject: FieldSubject };
    readonly answer: FieldFindings;
  };
  readonly shape: {
    readonly ask: { readonly bytes: Uint8Array; readonly unit: StlUnit };
    readonly answer: ShapeRead;
  };
  readonly cutting: {
    readonly ask: { readonly problem: CuttingProblem; readonly timeLimitS: number };
    readonly answer: CuttingAnswer;
  };
  readonly picture: {
    readonly ask: { readonly subject: FieldSubject; readonly hung: HungInside | null };
    readonly answer: FieldPicture;
  };
  readonly improve: { readonly ask: ImproveAsk; readonly answer: ImproveAnswer };
  readonly ahead: { readonly ask: AheadAsk; readonly answer: AheadAnswer };
};
export type ThreadJob = keyof ThreadJobs;

export type ThreadQuestion = {
  readonly [Job in ThreadJob]: { readonly job: Job; readonly ask: ThreadJobs[Job]["ask"] };
}[ThreadJob];

/** What a thread says: how far it is, its answer, or which measure was out of range. */
export type ThreadWord =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "answer"; readonly answer: ThreadJobs[ThreadJob]["answer"] }
  | { readonly kind: "out-of-range"; readonly why: string };
