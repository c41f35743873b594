import { randomUUID } from "node:crypto";
import { formatWhen } from "@/lib/server";
import { Form, Notice, NumberField, Section, SelectField, Submit, TextField } from "@/app/ui";
import { itemChoiceText } from "../../stock/item-choice";
import { exactQuantity } from "../../stock/quantity";
import { undoPullAction } from "./actions";
import { finishAction } from "./finish-action";
import type { StepProps } from "./step-props";

const RESULTS = [
  { value: "", label: "choose one" },
  { value: "CLEAN", label: "clean" },
  { value: "PARTLY", label: "partly clean: good enough" },
  { value: "AGAIN", label: "must go in again" },
  { value: "DAMAGED", label: "damaged" },
];

/** Asked of clean parts only: the shop learns its hours from it. */
const TIMINGS = [
  { value: "", label: "not sure" },
  { value: "JUST_CLEAN", label: "just clean" },
  { value: "LONG_CLEAN", label: "clean for a while" },
];

/** Things that one finish may use from stock: an oil and a wax, a brush. */
const USES = [1, 2];

/** How each part came out, what it took, and what was used on it. */
export function FinishStep({ view, shop }: StepProps) {
  const { run, protection, usualMinutes } = view;
  return (
    <>
      <Notice tone="brass" title="Rinse, brush, dry and protect it at once">
        Out since {run.pulledAt ? formatWhen(run.pulledAt, shop) : "now"}. Bare iron rusts within
        the hour.
      </Notice>
      <Section title="Finish" id="finish">
        <Form action={finishAction} label="Finish the load" className="space-y-6">
          <input type="hidden" name="runId" value={run.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          {run.dips.map(({ id, part }) => (
            <fieldset key={id} className="plate space-y-3 p-4">
              <legend className="sr-only">{part.description}</legend>
              <input type="hidden" name="dipIds" value={id} />
              <SelectField
                name="results"
                label={`${part.job.number}-${part.mark}, ${part.description}: how did it come out?`}
                options={RESULTS}
                required
                className="[&_select]:min-h-12"
              />
              <SelectField
                name="timings"
                label="When you pulled it, had it been clean for long?"
                hint="For a part that came out clean. Its hours are learned from this."
                options={TIMINGS}
                className="[&_select]:min-h-12"
              />
              <TextField name="resultNotes" label="Note" />
            </fieldset>
          ))}
          <fieldset className="grid gap-4 sm:grid-cols-3">
            <legend className="mb-2 text-lg font-semibold">Bench minutes</legend>
            <NumberField
              name="loadMinutes"
              label="Loading"
              unit="min"
              defaultValue={usualMinutes.load}
              required
            />
            <NumberField
              name="pullMinutes"
              label="Pulling"
              unit="min"
              defaultValue={usualMinutes.pull}
              required
            />
            <NumberField
              name="finishMinutes"
              label="Brush, dry, protect"
              unit="min"
              defaultValue={usualMinutes.finish}
              required
            />
          </fieldset>
          {protection.length > 0 ? (
            <fieldset className="space-y-3">
              <legend className="mb-2 text-lg font-semibold">Used from stock</legend>
              {USES.map((use) => (
                <div key={use} className="grid grid-cols-[3fr_2fr] items-end gap-3">
                  <SelectField
                    name="itemIds"
                    label={use === 1 ? "Oil, wax, primer …" : "Anything else"}
                    options={[
                      { value: "", label: "nothing" },
                      ...protection.map(({ itemId, name, onHand, unit }) => ({
                        value: itemChoiceText({ itemId, unit }),
                        label: `${name} (${exactQuantity(onHand, unit, shop.unitSystem)})`,
                      })),
                    ]}
                  />
                  <NumberField
                    name="quantities"
                    label="How much"
                    keyboard={shop.unitSystem === "US" ? "text" : "decimal"}
                  />
                </div>
              ))}
            </fieldset>
          ) : null}
          <Submit size="bench" className="w-full">
            Finished
          </Submit>
        </Form>
      </Section>
      {view.undoable === "pull" ? (
        <Form action={undoPullAction} label="Take the pulling back">
          <input type="hidden" name="runId" value={run.id} />
          <Submit kind="plain">It is still in: take that back</Submit>
        </Form>
      ) : null}
    </>
  );
}
