import { formatDuration, formatWhen } from "@/lib/server";
import { Form, Notice, Submit } from "@/app/ui";
import { temperatureWords } from "../../measures";
import { endBakeAction, startBakeAction } from "./actions";
import type { StepProps } from "./step-props";

/** Bakes that strong steel in this load waits for, before anything else is done to it. */
export function ReliefBakes({ view, shop, now, works }: StepProps & { readonly works: boolean }) {
  return view.bakes.map((bake) => {
    const { mustStartBy, startedAt } = bake;
    const late = !startedAt && mustStartBy !== null && mustStartBy < now;
    return (
      <Notice
        key={bake.id}
        tone={startedAt ? "bath" : "oxide"}
        title={`Relief bake for ${bake.part.description}: ${temperatureWords(bake.temperatureC, shop.unitSystem)} for ${bake.hours} h`}
      >
        <p>
          {startedAt
            ? `In the oven since ${formatWhen(startedAt, shop)}.`
            : `It must be in the oven by ${mustStartBy ? formatWhen(mustStartBy, shop) : "then"}${late ? ": that is past. Say so to the owner before it leaves the shop" : `, in ${formatDuration((mustStartBy?.getTime() ?? now.getTime()) - now.getTime())}`}.`}{" "}
          Baking does not guarantee that no hydrogen is left.
        </p>
        {works ? (
          <Form
            action={startedAt ? endBakeAction : startBakeAction}
            label="Relief bake"
            className="mt-3"
          >
            <input type="hidden" name="bakeId" value={bake.id} />
            <Submit kind="plain" size="bench">
              {startedAt ? "It is done" : "It is in the oven"}
            </Submit>
          </Form>
        ) : null}
      </Notice>
    );
  });
}
