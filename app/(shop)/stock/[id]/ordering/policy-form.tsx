import type { ShopSettings } from "@/lib/server";
import type { ItemOrderingView } from "@/lib/services";
import { minorDigits } from "@/lib/money";
import { UNIT_SIGNS } from "@/lib/stock";
import { Form, NumberField, SelectField, Submit } from "@/app/ui";
import { typedMoney } from "../../orders/words";
import { setPolicyAction } from "./actions";

const MODES = [
  { value: "BY_HAND", label: "set by hand, in the item" },
  { value: "WORKED_OUT", label: "worked out from use and deliveries" },
];

type Props = { readonly view: ItemOrderingView; readonly shop: ShopSettings };

/** How one item is ordered. */
export function PolicyForm({ view: { item, policy, seesMoney }, shop }: Props) {
  return (
    <Form action={setPolicyAction} label="How it is ordered">
      <input type="hidden" name="itemId" value={item.id} />
      <div className="grid gap-4 sm:grid-cols-2">
        <SelectField
          name="mode"
          label="Reorder point"
          options={MODES}
          defaultValue={policy.mode}
          required
        />
        <NumberField
          name="servicePercent"
          label="Lasts through"
          unit="% of orders"
          hint="Share of orders during which nothing may run out. 95 is usual."
          defaultValue={Number((100 * policy.serviceLevel).toFixed(2))}
          required
        />
        {seesMoney ? <CostFields view={{ policy, item }} shop={shop} /> : null}
      </div>
      <Submit>Save</Submit>
    </Form>
  );
}

type CostProps = {
  readonly view: Pick<ItemOrderingView, "policy" | "item">;
  readonly shop: ShopSettings;
};

function CostFields({ view: { policy, item }, shop }: CostProps) {
  const major =
    policy.holdingMinor === null
      ? undefined
      : policy.holdingMinor / 10 ** minorDigits(shop.currency);
  const one = item.unit === "EACH" ? "one piece" : `one ${UNIT_SIGNS[item.unit]}`;
  return (
    <>
      <NumberField
        name="orderCost"
        label="Cost of one order"
        unit={shop.currency}
        hint="Empty: that of the supplier."
        defaultValue={typedMoney(policy.orderCostMinor, shop.currency)}
      />
      <NumberField
        name="holdingPercent"
        label="Keeping it costs a year"
        unit="% of its price"
        hint="Space, money tied up, what spoils. 20 to 30 is common practice."
        defaultValue={policy.holdingPercent ?? undefined}
      />
      <NumberField
        name="holding"
        label={`Or keeping ${one} costs a year`}
        unit={shop.currency}
        hint="Either this or the share of its price."
        defaultValue={major}
      />
    </>
  );
}
