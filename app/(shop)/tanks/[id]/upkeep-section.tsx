import { randomUUID } from "node:crypto";
import { CARE_EVERY_AH } from "@/lib/electrolysis";
import { formatDay, formatWhen, type shopSettings } from "@/lib/server";
import type { TankPage, TankUpkeep } from "@/lib/services";
import { Badge, Figure, Form, Section, Submit, TextField } from "@/app/ui";
import { recordCareAction } from "./care-actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop; readonly works: boolean };

const WORDS = {
  CLAMPS: {
    title: "Clamps and clips",
    detail:
      "Supply off. Scrape both ends bright, look under the insulation, keep the positive clamp above the bath.",
    done: "The clamps are bright",
  },
  ANODE_BRUSHED: {
    title: "Anode brushed",
    detail: "Supply off. Lift it, brush off scale and sludge, look at the waterline and the edges.",
    done: "The anode is brushed",
  },
  SLUDGE_OUT: {
    title: "Sludge out",
    detail:
      "Let it settle, draw the clear bath off, take out the sludge wet. Where it may go is for local rules to say.",
    done: "The sludge is out",
  },
} as const;

/** Clamps, anode and sludge: when each was last seen to, and when it is due again. */
export function UpkeepSection({ view, shop, works }: Props) {
  return (
    <Section title="Upkeep" id="upkeep">
      <ul className="grid items-start gap-3 lg:grid-cols-3">
        {view.upkeep.map((upkeep) => (
          <li key={upkeep.kind}>
            <Care upkeep={upkeep} tankId={view.tank.id} shop={shop} works={works} />
          </li>
        ))}
      </ul>
    </Section>
  );
}

type CareProps = {
  readonly upkeep: TankUpkeep;
  readonly tankId: string;
  readonly shop: Shop;
  readonly works: boolean;
};

function Care({ upkeep, tankId, shop, works }: CareProps) {
  const { kind, last, due } = upkeep;
  const words = WORDS[kind];
  const isDue = due.sinceAh >= CARE_EVERY_AH[kind];
  return (
    <div className="plate space-y-3 p-4">
      <h3 className="flex flex-wrap items-center justify-between gap-2 font-semibold">
        {words.title}
        <Badge tone={isDue ? "brass" : "zinc"}>{isDue ? "due" : "in order"}</Badge>
      </h3>
      <p className="text-sm text-zinc">{words.detail}</p>
      <p>
        {last
          ? `Last ${formatWhen(last.at, shop)}, ${last.doneBy.name}. `
          : "Not written down yet. "}
        {due.sinceAh.toFixed(0)} of {CARE_EVERY_AH[kind]} A·h since. {dueWords(upkeep, shop)}
      </p>
      {due.weeks ? <Figure worked={due.weeks} label="Due in" /> : null}
      {works ? (
        <Form action={recordCareAction} label={words.title} clearWhenDone>
          <input type="hidden" name="tankId" value={tankId} />
          <input type="hidden" name="kind" value={kind} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <TextField name="note" label="Note" />
          <Submit kind="plain" size="bench">
            {words.done}
          </Submit>
        </Form>
      ) : null}
    </div>
  );
}

function dueWords({ due, on }: TankUpkeep, shop: Shop): string {
  if (!due.weeks) return "Nothing is usual or booked here, so no date can be told.";
  if (due.weeks.value === 0) return "Due now.";
  if (!on) return "Due in more than two years at this use.";
  return `Due about ${formatDay(on.p50, shop)}, between ${formatDay(on.p10, shop)} and ${formatDay(on.p90, shop)}.`;
}
