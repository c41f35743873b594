import { formatDuration, formatWhen, localInputValue } from "@/lib/server";
import {
  Confirm,
  Facts,
  Form,
  LinkButton,
  Notice,
  Section,
  Submit,
  TextField,
  TextLink,
} from "@/app/ui";
import { HowItHangs } from "../../how-it-hangs";
import { cancelAction, moveAction } from "./actions";
import { PartsList } from "./parts-list";
import type { StepProps } from "./step-props";

type Props = StepProps & { readonly works: boolean; readonly books: boolean };

/** A booked load before it goes in: what to bring, and how to change the booking. */
export function Booking({ view, shop, now, works, books }: Props) {
  const { run, tank } = view;
  const lacks = [
    ...(tank.bath ? [] : ["no bath"]),
    ...(tank.anodes.length > 0 ? [] : ["no anode"]),
    ...(tank.supply ? [] : ["no supply"]),
  ];
  return (
    <>
      <div className="plate p-4">
        <Facts
          facts={[
            { label: "Load", value: formatWhen(run.startsAt, shop) },
            { label: "Pull by", value: formatWhen(run.endsAt, shop) },
            { label: "Tank held for", value: held(view) },
            {
              label: "Expected current",
              value: `${run.currentLowA.toFixed(1)} to ${run.currentHighA.toFixed(1)} A`,
            },
            { label: "Charge wanted", value: `${run.targetChargeAh.toFixed(1)} A·h` },
            { label: "Supply", value: tank.supply?.name ?? "none" },
          ]}
        />
      </div>
      <Section title="How they hang" id="hang">
        <div className="space-y-3">
          <HowItHangs layout={view.layout} tank={tank} units={shop.unitSystem} />
          <PartsList view={view} />
        </div>
      </Section>
      {lacks.length > 0 ? (
        <Notice tone="oxide" title={`${tank.name} is not ready: ${lacks.join(", ")}`}>
          <TextLink href={`/tanks/${tank.id}`}>Make it ready</TextLink>
        </Notice>
      ) : null}
      {run.startsAt < now ? (
        <Notice tone="brass" title="It should have gone in by now">
          Booked for {formatWhen(run.startsAt, shop)}.
        </Notice>
      ) : null}
      {works && lacks.length === 0 ? (
        <p className="grid">
          <LinkButton href={`/runs/${run.id}?step=safety`} kind="main" size="bench">
            Safety check, then load
          </LinkButton>
        </p>
      ) : null}
      {books ? (
        <Section title="Change the booking" id="change">
          <div className="space-y-3">
            <details className="plate">
              <summary className="flex min-h-12 items-center px-4 font-medium">
                Another time
              </summary>
              <div className="border-t border-line p-4">
                <Form action={moveAction} label="Move the run">
                  <input type="hidden" name="runId" value={run.id} />
                  <TextField
                    name="startsAt"
                    label="Load at"
                    type="datetime-local"
                    defaultValue={localInputValue(run.startsAt, shop.timeZone)}
                    hint="Within opening hours. When to pull follows."
                    required
                  />
                  <Submit kind="plain">Move it</Submit>
                </Form>
              </div>
            </details>
            <Confirm
              label="Cancel this run"
              question="The tank is free again, and the parts wait for another time."
              action={cancelAction}
              confirm="Cancel the run"
            >
              <input type="hidden" name="runId" value={run.id} />
            </Confirm>
          </div>
        </Section>
      ) : null}
    </>
  );
}

const held = ({ run }: StepProps["view"]): string =>
  formatDuration(run.endsAt.getTime() - run.startsAt.getTime());
