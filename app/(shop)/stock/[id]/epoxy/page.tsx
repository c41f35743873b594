import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatDate, formatDay, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { type EpoxyPage, epoxyPage } from "@/lib/services";
import {
  Badge,
  Empty,
  Figure,
  Figures,
  Form,
  MeasureField,
  Notice,
  Page,
  Section,
  SelectField,
  Submit,
  Table,
  TextLink,
} from "@/app/ui";
import { temperatureWords } from "../../../measures";
import { exactQuantity } from "../../quantity";
import { mixAction } from "./actions";
import { type Mix, mixFigures, MixSchema } from "./mix";
import { SheetForm } from "./sheet-form";

export const metadata: Metadata = { title: "Mix epoxy" };

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | string[] | undefined>>>;
};

export default async function EpoxyScreen({ params, searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const itemId = idFrom((await params).id);
  const asked = MixSchema.safeParse(await searchParams);
  const page = await load(() => epoxyPage(actor, itemId, new Date()));
  return (
    <Page
      title="Mix epoxy"
      kicker={<TextLink href={`/stock/${itemId}`}>{page.item.name}</TextLink>}
    >
      <Notice tone="brass" title="Skin, eyes and lungs first">
        Nitrile gloves, long sleeves, goggles, and air through the room: epoxy makes allergies that
        stay, and its vapour belongs outside. Never sand it dry. The product’s own safety sheet and
        the rules of your place go before anything said here.
      </Notice>
      {page.sheet ? (
        <Mixing page={page} mix={asked.success ? asked.data : null} shop={shop} />
      ) : (
        <Notice tone="zinc" title="The maker’s sheet is not copied yet">
          Without its ratio and times nothing can be worked out, and no leak can be patched with it.
        </Notice>
      )}
      {may(actor, "keep-stock") ? (
        <details className="plate" open={!page.sheet}>
          <summary className="flex min-h-12 items-center px-4 font-semibold">
            The maker’s sheet
          </summary>
          <div className="border-t border-line p-4">
            <SheetForm itemId={itemId} sheet={page.sheet} />
          </div>
        </details>
      ) : null}
      <Deliveries page={page} shop={shop} />
    </Page>
  );
}

type MixingProps = { readonly page: EpoxyPage; readonly mix: Mix | null; readonly shop: Shop };

function Mixing({ page: { item, sheet, workshopC }, mix, shop }: MixingProps) {
  const told = sheet && mix ? mixFigures(sheet, mix) : null;
  const by = sheet?.hardenerPer100ByMass === null ? "VOLUME" : "MASS";
  return (
    <Section title="How much of each" id="mix">
      <Form action={mixAction} label="Work out a mix">
        <input type="hidden" name="itemId" value={item.id} />
        <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
          <SelectField
            name="by"
            label="Measured out"
            options={[
              { value: "MASS", label: "on a scale" },
              { value: "VOLUME", label: "by volume" },
            ]}
            defaultValue={mix?.by ?? by}
            required
          />
          <MeasureField
            name="amountG"
            label="Both parts together"
            kind="salt"
            value={mix?.amountG === 0 ? null : mix?.amountG}
            hint="Or leave it empty and say how large the patch is."
          />
          <MeasureField
            name="temperatureC"
            label="It is"
            kind="temperature"
            value={mix?.temperatureC ?? workshopC}
            required
          />
          <MeasureField
            name="areaCm2"
            label="Area of the patch"
            kind="opening"
            value={mix?.areaCm2 === 0 ? null : mix?.areaCm2}
          />
          <MeasureField
            name="thicknessMm"
            label="Thickness of the patch"
            kind="thickness"
            value={mix?.thicknessMm === 0 ? null : mix?.thicknessMm}
          />
        </div>
        <Submit>Work it out</Submit>
      </Form>
      {told ? (
        <div className="mt-4 space-y-3" aria-live="polite">
          {told.tooCold ? (
            <Notice tone="oxide" title="Too cold: it does not set">
              It takes {temperatureWords(sheet?.leastCureC ?? 0, shop.unitSystem)} at least. Warm
              the place, not the cup.
            </Notice>
          ) : null}
          <Figures>
            {told.figures.map((worked) => (
              <Figure key={worked.name} worked={worked} />
            ))}
          </Figures>
        </div>
      ) : null}
    </Section>
  );
}

function Deliveries({
  page: { item, lots },
  shop,
}: {
  readonly page: EpoxyPage;
  readonly shop: Shop;
}) {
  return (
    <Section title="What is left" id="lots">
      {lots.length === 0 ? (
        <Empty>None of it is in stock.</Empty>
      ) : (
        <Table
          caption="Deliveries with something left, oldest first"
          rows={lots}
          rowKey={({ lot }) => lot.id}
          columns={[
            { head: "Delivered", cell: ({ lot }) => formatDate(lot.receivedAt, shop) },
            {
              head: "Left",
              numeric: true,
              cell: ({ lot }) => exactQuantity(lot.onHand, item.unit, shop.unitSystem),
            },
            {
              head: "Good until",
              cell: ({ goodUntil, isExpired }) => (
                <>
                  {goodUntil ? formatDay(goodUntil, shop) : "not known"}{" "}
                  {isExpired ? <Badge tone="oxide">past it: do not use</Badge> : null}
                </>
              ),
            },
          ]}
        />
      )}
    </Section>
  );
}
