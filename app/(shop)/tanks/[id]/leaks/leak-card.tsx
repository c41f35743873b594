import { randomUUID } from "node:crypto";
import { formatDate, formatWhen, type shopSettings } from "@/lib/server";
import type { LeaksPage } from "@/lib/services";
import {
  Badge,
  Confirm,
  Form,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextField,
} from "@/app/ui";
import { lengthWords } from "../../../measures";
import { itemChoiceText } from "../../../stock/item-choice";
import { exactQuantity } from "../../../stock/quantity";
import { closeLeakAction, patchLeakAction, reopenLeakAction } from "./actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Leak = LeaksPage["leaks"][number];
type Props = {
  readonly leak: Leak;
  readonly page: LeaksPage;
  readonly shop: Shop;
  readonly keeps: boolean;
  readonly works: boolean;
};

export const SEVERITY_WORDS = {
  WEEPING: "weeping",
  DRIPPING: "dripping",
  RUNNING: "running",
} as const;

const STATE = {
  OPEN: { tone: "oxide", word: "open" },
  PATCHED: { tone: "brass", word: "patched" },
  CLOSED: { tone: "zinc", word: "closed" },
} as const;

/** One leak: where, how much, its patches, and what can be done. */
export function LeakCard({ leak, page, shop, keeps, works }: Props) {
  const { tone, word } = STATE[leak.state];
  const height = leak.heightMm;
  return (
    <article className="plate space-y-3 p-4" aria-label={leak.place}>
      <h2 className="flex flex-wrap items-center gap-3 text-lg font-semibold">
        {leak.place}
        <Badge tone={tone}>{word}</Badge>
      </h2>
      <p>
        {SEVERITY_WORDS[leak.severity]}
        {height === null ? "" : `, ${lengthWords(height, shop.unitSystem)} above the floor`}; found
        by {leak.foundBy.name}, {formatWhen(leak.foundAt, shop)}.{" "}
        {leak.closedAt && leak.closedBy
          ? `Closed by ${leak.closedBy.name}, ${formatWhen(leak.closedAt, shop)}.`
          : ""}
      </p>
      {leak.note ? <p>{leak.note}</p> : null}
      <Patches leak={leak} shop={shop} />
      <div className="grid items-start gap-3 md:grid-cols-2">
        {keeps && leak.state !== "CLOSED" ? <PatchForm {...{ leak, page, shop }} /> : null}
        {keeps && leak.state === "PATCHED" ? (
          <Confirm
            label="It is tight"
            question="Filled, and dry outside since?"
            action={closeLeakAction}
            confirm="Close it"
          >
            <LeakIds leak={leak} />
          </Confirm>
        ) : null}
        {works && leak.state !== "OPEN" ? (
          <Confirm
            label="It leaks again"
            question="It goes back to the open ones; its patches stay written."
            action={reopenLeakAction}
            confirm="Open it again"
          >
            <LeakIds leak={leak} />
          </Confirm>
        ) : null}
      </div>
    </article>
  );
}

function LeakIds({ leak }: { readonly leak: Leak }) {
  return (
    <>
      <input type="hidden" name="tankId" value={leak.tankId} />
      <input type="hidden" name="leakId" value={leak.id} />
    </>
  );
}

function Patches({ leak: { patches }, shop }: Pick<Props, "leak" | "shop">) {
  if (patches.length === 0) return null;
  return (
    <ul className="space-y-1">
      {patches.map((patch) => (
        <li key={patch.id}>
          Patched {formatWhen(patch.at, shop)} by {patch.patchedBy.name}:{" "}
          {exactQuantity(Number(patch.quantity), patch.item.unit, shop.unitSystem)} of{" "}
          {patch.item.name}, set {formatWhen(patch.cureUntil, shop)}.{" "}
          {patch.expiredReason ? `Past its last good day: ${patch.expiredReason}. ` : ""}
          {patch.note}
        </li>
      ))}
    </ul>
  );
}

function PatchForm({ leak, page, shop }: Pick<Props, "leak" | "page" | "shop">) {
  const { epoxies, tank, workshopC } = page;
  if (tank.hasBath) {
    if (leak.state !== "OPEN") return null;
    return <p>To patch it, dispose of the bath first: epoxy holds on dry walls only.</p>;
  }
  if (epoxies.length === 0) {
    return (
      <p>No epoxy with a maker’s sheet is in stock: copy the sheet under Stock, or order some.</p>
    );
  }
  const lots = epoxies.flatMap(({ item, lots: own }) =>
    own.map(({ lot, isExpired }) => ({
      value: lot.id,
      label: `${item.name}, ${formatDate(lot.receivedAt, shop)}${isExpired ? " (past its last good day)" : ""}`,
    })),
  );
  return (
    <details className="rounded-[var(--radius-plate)] border border-line">
      <summary className="flex min-h-11 items-center px-4 font-medium">Patch it</summary>
      <div className="border-t border-line p-4">
        <Form action={patchLeakAction} label="Patch the leak" clearWhenDone>
          <LeakIds leak={leak} />
          <input type="hidden" name="patchId" value={randomUUID()} />
          <p>Gloves on, air through the room. Dry, bright and free of grease, then the epoxy.</p>
          <SelectField
            name="epoxy"
            label="Epoxy"
            options={epoxies.map(({ item }) => ({
              value: itemChoiceText({ itemId: item.id, unit: item.unit }),
              label: item.name,
            }))}
            required
          />
          <NumberField
            name="quantity"
            label="How much of it"
            hint="Both parts together, in its own unit."
            required
          />
          <MeasureField
            name="temperatureC"
            label="It is"
            kind="temperature"
            value={workshopC}
            required
          />
          <SelectField
            name="lotId"
            label="Of which delivery"
            options={[{ value: "", label: "the oldest that is good" }, ...lots]}
            required
          />
          <TextField
            name="expiredReason"
            label="Why one past its last good day"
            hint="Only where you take one: a test cup set hard, say."
          />
          <TextField name="note" label="Note" />
          <Submit>It is patched</Submit>
        </Form>
      </div>
    </details>
  );
}
