import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatDate, formatWhen, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { type BarsPage, barsPage, type LotOnRack } from "@/lib/services";
import { massPerMetre, sectionText, surfacePerMetre } from "@/lib/stock";
import { formatMeasure, said } from "@/lib/units";
import {
  Confirm,
  Empty,
  Facts,
  Form,
  LinkButton,
  MeasureField,
  Notice,
  Page,
  Section,
  Submit,
  Table,
  TextLink,
} from "@/app/ui";
import { exactQuantity } from "../../quantity";
import { measureOffcutAction, scrapOffcutAction } from "./actions";
import { SectionForm } from "./section-form";

export const metadata: Metadata = { title: "Bars and offcuts" };

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly params: Promise<{ id: string }> };

export default async function SteelPage({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const itemId = idFrom((await params).id);
  const { item, section, rack, cuts } = await load(() => barsPage(actor, itemId));
  const keeps = may(actor, "keep-stock");
  return (
    <Page
      title="Bars and offcuts"
      kicker={<TextLink href={`/stock/${itemId}`}>{item.name}</TextLink>}
      actions={
        section ? <LinkButton href="/stock/cutting">Cut steel for an anode</LinkButton> : null
      }
    >
      {section ? (
        <SectionFacts section={section} shop={shop} />
      ) : (
        <Notice tone="brass" title="Nobody has said yet what these bars measure">
          With their section, lengths, masses and areas of anodes are worked out, and cuts are
          planned from what lies on the rack.
        </Notice>
      )}
      {keeps ? (
        <details className="plate" open={!section}>
          <summary className="flex min-h-12 items-center px-4 font-semibold">
            What the bars measure
          </summary>
          <div className="border-t border-line p-4">
            <SectionForm itemId={itemId} section={section} />
          </div>
        </details>
      ) : null}
      {section ? (
        <Section title="On the rack" id="rack">
          {rack.length === 0 ? <Empty>Nothing of it is in stock.</Empty> : null}
          <div className="space-y-6">
            {rack.map((row) => (
              <OneLot key={row.lot.id} row={row} itemId={itemId} shop={shop} keeps={keeps} />
            ))}
          </div>
        </Section>
      ) : null}
      {cuts.length > 0 ? <Cuts cuts={cuts} shop={shop} /> : null}
    </Page>
  );
}

type SectionProps = { readonly section: NonNullable<BarsPage["section"]>; readonly shop: Shop };

function SectionFacts({ section, shop: { unitSystem } }: SectionProps) {
  return (
    <Facts
      facts={[
        { label: "Section", value: said(sectionText(section), unitSystem) },
        { label: "Mass", value: formatMeasure("lineMass", massPerMetre(section), unitSystem) },
        {
          label: "Surface of a metre, outside",
          value: formatMeasure("area", surfacePerMetre(section), unitSystem),
        },
        {
          label: "A whole bar",
          value: exactQuantity(section.stockLengthMm, "MILLIMETRE", unitSystem),
        },
        { label: "The saw takes", value: formatMeasure("thickness", section.kerfMm, unitSystem) },
        {
          label: "Kept from",
          value: exactQuantity(section.leastOffcutMm, "MILLIMETRE", unitSystem),
        },
      ]}
    />
  );
}

type LotProps = {
  readonly row: LotOnRack;
  readonly itemId: string;
  readonly shop: Shop;
  readonly keeps: boolean;
};

function OneLot({ row: { lot, offcuts, wholeBars, unmeasuredMm }, itemId, shop, keeps }: LotProps) {
  const long = (mm: number): string => exactQuantity(mm, "MILLIMETRE", shop.unitSystem);
  const day = formatDate(lot.receivedAt, shop);
  return (
    <article className="plate space-y-3 p-4" aria-label={`Delivery of ${day}`}>
      <h3 className="font-semibold">Delivery of {day}</h3>
      <p>
        {wholeBars} {wholeBars === 1 ? "whole bar" : "whole bars"}, {offcuts.length}{" "}
        {offcuts.length === 1 ? "offcut" : "offcuts"}; {long(lot.onHand)} by the ledger.
      </p>
      {unmeasuredMm > 0 ? (
        <p>
          {long(unmeasuredMm)} of it lie in lengths that nobody has measured. Until they are, no cut
          is planned from them.
        </p>
      ) : null}
      {unmeasuredMm < 0 ? (
        <Notice tone="oxide" title="Rack and ledger disagree">
          The offcuts are {long(-unmeasuredMm)} longer than what the ledger holds. Count the item,
          or scrap what is not there; until then no cut is planned from this delivery.
        </Notice>
      ) : null}
      {keeps ? (
        <div className="grid items-start gap-3 md:grid-cols-2">
          {offcuts.map(({ id, lengthMm }) => (
            <Confirm
              key={id}
              label={`Scrap the offcut of ${long(lengthMm)}`}
              question="It is written off at its share of what the delivery cost."
              action={scrapOffcutAction}
              confirm="Scrap it"
            >
              <input type="hidden" name="itemId" value={itemId} />
              <input type="hidden" name="offcutId" value={id} />
            </Confirm>
          ))}
          <details className="rounded-[var(--radius-plate)] border border-line">
            <summary className="flex min-h-11 items-center px-4 font-medium">
              Measure a length on the rack
            </summary>
            <div className="border-t border-line p-4">
              <Form action={measureOffcutAction} label="Measure a length" clearWhenDone>
                <input type="hidden" name="id" value={randomUUID()} />
                <input type="hidden" name="itemId" value={itemId} />
                <input type="hidden" name="lotId" value={lot.id} />
                <MeasureField name="lengthMm" label="Length" kind="length" required />
                <Submit>It lies there</Submit>
              </Form>
            </div>
          </details>
        </div>
      ) : (
        <p>{offcuts.map(({ lengthMm }) => long(lengthMm)).join(", ")}</p>
      )}
    </article>
  );
}

const STATE_WORDS = { CUT: "waits to be hung", HUNG: "hangs", UNDONE: "taken back" } as const;

function Cuts({ cuts, shop }: { readonly cuts: BarsPage["cuts"]; readonly shop: Shop }) {
  return (
    <Section title="Latest cuts" id="cuts">
      <Table
        caption="What was cut from these bars, newest first"
        rows={cuts}
        rowKey={({ id }) => id}
        columns={[
          {
            head: "Cut",
            cell: (cut) => (
              <TextLink href={`/stock/cutting?cut=${cut.id}`}>
                {cut.count} × {exactQuantity(cut.lengthMm, "MILLIMETRE", shop.unitSystem)}
              </TextLink>
            ),
          },
          { head: "For", cell: ({ tank }) => tank.name },
          { head: "When", wideOnly: true, cell: ({ at }) => formatWhen(at, shop) },
          { head: "By", wideOnly: true, cell: ({ cutBy }) => cutBy.name },
          { head: "State", cell: ({ state }) => STATE_WORDS[state] },
        ]}
      />
    </Section>
  );
}
