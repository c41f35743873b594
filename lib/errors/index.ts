/**
 * Expected refusals, apart from bugs. A `Refusal` is shown to the person as it stands;
 * anything else that is thrown is a fault, is logged, and reaches the error boundary.
 */

/** Stable words for why something was refused; screens and the REST interface branch on these only. */
export type RefusalCode =
  | "not-signed-in"
  | "not-allowed"
  | "not-found"
  | "invalid"
  | "conflict"
  | "tank-busy"
  | "supply-full"
  | "not-enough-stock"
  | "expired"
  | "too-many-tries";

/** Messages for single form fields, keyed by the field's name. */
export type FieldMessages = Readonly<Record<string, string>>;

/**
 * Something a person asked for that cannot be done, said in words they can act on.
 *
 * @example throw new Refusal("invalid", "A run must end after it starts.", { endsAt: "Choose a later time." })
 */
export class Refusal extends Error {
  readonly code: RefusalCode;
  readonly fields: FieldMessages | undefined;

  constructor(code: RefusalCode, message: string, fields?: FieldMessages) {
    super(message);
    this.name = "Refusal";
    this.code = code;
    this.fields = fields;
  }
}

/** True for a `Refusal`, also one that crossed a bundle boundary and lost its prototype. */
export function isRefusal(error: unknown): error is Refusal {
  return error instanceof Error && error.name === "Refusal" && "code" in error;
}

/** What a form shows after it was sent; plain data between server and browser. */
export type FormState = {
  readonly status: "idle" | "done" | "refused";
  readonly message?: string;
  /** An address that was just made and is shown this once, to be copied. */
  readonly link?: string;
  readonly fields?: FieldMessages;
  /** Changes with every answer, so that the same message twice is announced twice. */
  readonly stamp: number;
};

export const IDLE_FORM: FormState = { status: "idle", stamp: 0 };
