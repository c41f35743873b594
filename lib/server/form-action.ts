import type { z } from "zod";
import type { Actor } from "@/lib/access";
import { type FieldMessages, type FormState, isRefusal, Refusal } from "@/lib/errors";
import { isUnitSystem, type UnitSystem } from "@/lib/units";
import { requireActor } from "./actor";

/** What a finished action tells its form; nothing says "Saved." A link is shown this once, to be copied. */
export type Done = { readonly message?: string; readonly link?: string } | undefined;

/**
 * What a form must hold. Where measures are typed it depends on the units that the form was shown in, which it sends
 * along: a setting that changed in between then misreads nothing.
 */
type FormSchema<Schema extends z.ZodObject> = Schema | ((units: UnitSystem) => Schema);

const OUT_OF_DATE = "This page is out of date. Open it again.";

export type FormAction = (previous: FormState, form: FormData) => Promise<FormState>;

/**
 * A server action behind a form: finds the signed-in person, parses, runs, and turns a refusal into what the
 * form shows. Anything else is rethrown, so that faults reach the error boundary and redirects work.
 *
 * @param schema what the form must hold, or how that follows from its units; lists are read from fields of the same
 *   name
 * @example export const addTank = formAction(TankForm, async (actor, tank) => { await insertTank(actor, tank, new Date()); })
 */
export function formAction<Schema extends z.ZodObject>(
  schema: FormSchema<Schema>,
  run: (actor: Actor, input: z.output<Schema>) => Promise<Done> | Promise<void>,
): FormAction {
  return async (_previous, form) => {
    const actor = await requireActor();
    return answer(schema, form, (input) => run(actor, input));
  };
}

/** The same for pages without a signed-in person: first visit, joining, a customer's link. */
export function openFormAction<Schema extends z.ZodObject>(
  schema: FormSchema<Schema>,
  run: (input: z.output<Schema>) => Promise<Done> | Promise<void>,
): FormAction {
  return async (_previous, form) => answer(schema, form, run);
}

async function answer<Schema extends z.ZodObject>(
  asked: FormSchema<Schema>,
  form: FormData,
  run: (input: z.output<Schema>) => Promise<Done> | Promise<void>,
): Promise<FormState> {
  const stamp = Date.now();
  const schema = schemaOf(asked, form);
  if (!schema) return { status: "refused", stamp, message: OUT_OF_DATE };
  const parsed = schema.safeParse(formValues(schema, form));
  if (!parsed.success) {
    const fields = fieldMessages(parsed.error);
    const [only, ...more] = Object.values(fields);
    // One message is said in full: its field may be one that nobody sees.
    const message = only && more.length === 0 ? only : "Please look at the marked fields.";
    return { status: "refused", stamp, fields, message };
  }
  try {
    const done = await run(parsed.data);
    const link = done?.link;
    return { status: "done", stamp, message: done?.message ?? "Saved.", ...(link ? { link } : {}) };
  } catch (error) {
    const refusal = asShownRefusal(error);
    if (!refusal) throw error;
    const { message, fields } = refusal;
    return { status: "refused", stamp, message, ...(fields ? { fields } : {}) };
  }
}

/** The form's schema for the units it was shown in; null where it does not say them. */
function schemaOf<Schema extends z.ZodObject>(
  schema: FormSchema<Schema>,
  form: FormData,
): Schema | null {
  if (typeof schema !== "function") return schema;
  const units = form.get("units");
  return isUnitSystem(units) ? schema(units) : null;
}

/** A refusal, or a calculation's RangeError, which names the value, its range and its unit. */
function asShownRefusal(error: unknown): Refusal | null {
  if (isRefusal(error)) return error;
  if (error instanceof RangeError) return new Refusal("invalid", error.message);
  return null;
}

/** The form's fields as the schema wants them: an array where the schema has one, else the last value. */
function formValues(schema: z.ZodObject, form: FormData): Record<string, unknown> {
  const values: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(schema.shape)) {
    const all = form.getAll(name);
    if (isList(field)) values[name] = all;
    else if (all.length > 0) values[name] = all.at(-1);
  }
  return values;
}

/** Whether a field of the schema takes a list, under any default or transform. */
function isList(field: unknown): boolean {
  const definition = (field as { def?: { type?: string; innerType?: unknown; in?: unknown } }).def;
  if (!definition) return false;
  if (definition.type === "array") return true;
  return isList(definition.innerType ?? definition.in ?? {});
}

function fieldMessages(error: z.ZodError): FieldMessages {
  const messages: Record<string, string> = {};
  for (const issue of error.issues) {
    const name = String(issue.path[0] ?? "");
    messages[name] ??= issue.message;
  }
  return messages;
}
