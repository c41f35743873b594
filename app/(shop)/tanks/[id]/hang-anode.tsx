import { randomUUID } from "node:crypto";
import type { shopSettings } from "@/lib/server";
import type { CutView, TankPage } from "@/lib/services";
import {
  Form,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextField,
  TextLink,
} from "@/app/ui";
import { itemChoiceText } from "../../stock/item-choice";
import { exactQuantity } from "../../stock/quantity";
import { installAnodeAction } from "../actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = {
  readonly view: TankPage;
  readonly shop: Shop;
  /** pieces that were cut and are to be hung */
  readonly cut: CutView | null;
};

const waitingHere = (cut: CutView | null, { tank }: TankPage): CutView | null =>
  cut?.state === "CUT" && cut.tankId === tank.id ? cut : null;

/** Hanging an anode: pieces that were cut for it, steel by the length, or scrap of the shop's own. */
export function HangAnode({ view, shop, cut: given }: Props) {
  const { tank, steels, anodes } = view;
  const cut = waitingHere(given, view);
  return (
    <details className="plate mt-4" open={anodes.length === 0 || cut !== null}>
      <summary className="flex min-h-12 items-center px-4 font-semibold">Hang an anode</summary>
      <div className="border-t border-line p-4">
        <Form action={installAnodeAction} label="Hang an anode" clearWhenDone>
          <input type="hidden" name="tankId" value={tank.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <p>
            Plain mild steel only. Never stainless: it puts chromium(VI) in the bath. Never plated
            or galvanised. The clip of the positive lead stays above the liquid.
          </p>
          <p>
            {cut ? (
              `Of the ${cut.count} pieces of ${cut.item.name} cut by ${cut.cutBy.name}; mass and area are worked out from them. Their cost goes along.`
            ) : (
              <TextLink href={`/stock/cutting?tankId=${tank.id}`}>Cut steel for an anode</TextLink>
            )}
          </p>
          <input type="hidden" name="cutId" value={cut?.id ?? ""} />
          <div className="grid gap-4 sm:grid-cols-2">
            <TextField
              name="name"
              label="Name"
              hint="“Sheet round the wall”, “rebar, left”."
              defaultValue={cut ? `${CUT_NAMES[cut.way]}, ${cut.item.name}`.slice(0, 80) : ""}
              required
            />
            <SelectField
              name="place"
              label="Where"
              options={[
                { value: "WALL", label: "at the wall" },
                { value: "INNER", label: "inside a hollow part" },
              ]}
            />
            <MeasureField
              name="massG"
              label={cut ? "Mass" : "Mass, weighed"}
              kind="steelMass"
              value={cut?.massG}
              rough
              required
            />
            <MeasureField
              name="wettedAreaM2"
              label="Area facing the bath"
              kind="area"
              value={cut?.wettedAreaM2}
              rough
              hint="Length × height of what is under the level."
              required
            />
            <NumberField
              name="replaceAtPercent"
              label="Replace when gone"
              unit="%"
              defaultValue={50}
              required
            />
            <MeasureField
              name="thicknessMm"
              label="Thickness of the sheet"
              kind="thickness"
              hint="Where thickness decides; leave both empty for rods."
            />
            <MeasureField name="leastThicknessMm" label="Replace at" kind="thickness" />
            {cut ? null : <SteelFields steels={steels} shop={shop} />}
          </div>
          <Submit>It hangs</Submit>
        </Form>
      </div>
    </details>
  );
}

const CUT_NAMES = { RING: "Ring", STRIPS: "Strips", ROD: "Rods" } as const;

function SteelFields({
  steels,
  shop,
}: {
  readonly steels: TankPage["steels"];
  readonly shop: Shop;
}) {
  return (
    <>
      <SelectField
        name="steelItemId"
        label="Steel from stock"
        options={[
          { value: "", label: "none: scrap of our own" },
          ...steels.map(({ itemId, name, onHand, unit }) => ({
            value: itemChoiceText({ itemId, unit }),
            label: `${name} (${exactQuantity(onHand, unit, shop.unitSystem)} on hand)`,
          })),
        ]}
      />
      <NumberField name="steelQuantity" label="How much of it" hint={STEEL_HINT[shop.unitSystem]} />
    </>
  );
}

const STEEL_HINT = {
  METRIC: "In the item's own unit: millimetres, grams or pieces.",
  US: "In the item's own unit: inches, ounces or pieces. 2 ft 3 in or 5 lb do too.",
} as const;
