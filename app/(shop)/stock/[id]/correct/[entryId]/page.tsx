import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatWhen, idFrom, load, requireActorWith, shopSettings } from "@/lib/server";
import { lineToCorrect } from "@/lib/services";
import { ENTRY_KIND_WORDS } from "@/lib/stock";
import {
  Facts,
  Form,
  moneyText,
  Notice,
  NumberField,
  Page,
  Submit,
  TextField,
  TextLink,
} from "@/app/ui";
import { correctAction } from "../../actions";
import { exactQuantity } from "../../../quantity";
import { QuantityField } from "../../../quantity-field";

export const metadata: Metadata = { title: "Correct a ledger line" };

type Props = { readonly params: Promise<{ id: string; entryId: string }> };

export default async function CorrectLinePage({ params }: Props) {
  const actor = await load(() => requireActorWith("keep-stock"));
  const shop = await shopSettings();
  const { id, entryId } = await params;
  const [itemId, lineId] = [idFrom(id), idFrom(entryId)];
  const view = await load(() => lineToCorrect(actor, itemId, lineId));
  const { item, line, amendable, countedSince } = view;
  const delivery = line.kind === "RECEIVED";
  const amount = exactQuantity(Math.abs(line.quantity), item.unit, shop.unitSystem);
  return (
    <Page
      title="Correct a line"
      kicker={<TextLink href={`/stock/${item.id}#ledger`}>{item.name}</TextLink>}
      narrow
    >
      <p>
        The line stays in sight. A new one takes it back, at exactly its cost and for the same load,
        job or tank, so that every sum comes right.
      </p>
      <Facts
        facts={[
          { label: "What", value: ENTRY_KIND_WORDS[line.kind] },
          { label: "How much", value: `${line.quantity > 0 ? "+" : "−"}${amount}` },
          { label: "When", value: formatWhen(line.at, shop) },
          { label: "Written by", value: line.enteredBy },
          { label: "For", value: boundWords(line) },
          {
            label: "At cost",
            value: may(actor, "see-money") ? moneyText(Math.abs(line.costMinor), shop) : null,
          },
          { label: "Note", value: line.note },
        ]}
      />
      {countedSince ? (
        <Notice tone="brass" title={`Counted since, ${formatWhen(countedSince, shop)}`}>
          The count may have put the amount right already. Count the item again after you correct
          this line.
        </Notice>
      ) : null}
      <Form action={correctAction} label="Correct the line">
        <input type="hidden" name="entryId" value={line.id} />
        <input type="hidden" name="unit" value={item.unit} />
        <TextField name="reason" label="What was wrong" required />
        {amendable ? (
          <QuantityField
            name="quantity"
            label={delivery ? "What really came" : "What it really was"}
            hint="Leave empty where this line should not be there at all."
            unit={item.unit}
          />
        ) : (
          <p className="text-zinc">
            The line is taken back. What really happened is written as a new one afterwards.
          </p>
        )}
        {delivery ? (
          <NumberField
            name="cost"
            label="What it really cost in all"
            unit={shop.currency}
            hint="Empty keeps the cost as written. What was used since keeps the cost it went out at: the difference falls on what is left."
          />
        ) : null}
        <Submit>Correct it</Submit>
      </Form>
    </Page>
  );
}

type Line = Awaited<ReturnType<typeof lineToCorrect>>["line"];

function boundWords({ run, job, tank }: Line): string {
  const names = [run && `run ${run.number}`, job && `job ${job.number}`, tank?.name];
  return names.filter(Boolean).join(", ");
}
