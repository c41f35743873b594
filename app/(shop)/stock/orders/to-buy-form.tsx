import type { ItemOrdering, SupplierNeeds } from "@/lib/services";
import { ORDER_REASON_WORDS } from "@/lib/stock";
import type { UnitSystem } from "@/lib/units";
import { Badge, CheckField, Figure, Form, Submit, TextLink } from "@/app/ui";
import { itemChoiceText } from "../item-choice";
import { exactQuantity, shownQuantity } from "../quantity";
import { QuantityField } from "../quantity-field";
import { listNeedsAction } from "./actions";
import { slot } from "./slots";
import { REASON_TONE, supplierWords } from "./words";

type Props = {
  /** no more items in all than a form has rows */
  readonly groups: readonly SupplierNeeds[];
  readonly units: UnitSystem;
  readonly changes: boolean;
};

/** What is due, by supplier: how much of each, and one press that writes a list for everyone. */
export function ToBuyForm({ groups, units, changes }: Props) {
  const rows = groups.flatMap(({ needs }) => needs);
  const body = groups.map((group) => (
    <section key={group.supplierName} aria-label={`From ${supplierWords(group.supplierName)}`}>
      <h3 className="mb-2 text-lg font-semibold first-letter:uppercase">
        {supplierWords(group.supplierName)}
        {group.draftNumber === null ? null : (
          <span className="ml-2 text-sm font-normal text-zinc">
            goes on list {group.draftNumber}
          </span>
        )}
      </h3>
      <ul className="space-y-3">
        {group.needs.map((need) => (
          <Need
            key={need.item.id}
            need={need}
            index={rows.indexOf(need)}
            units={units}
            changes={changes}
          />
        ))}
      </ul>
    </section>
  ));
  if (!changes) return <div className="space-y-6">{body}</div>;
  return (
    <Form action={listNeedsAction} label="Make lists to buy" className="space-y-6">
      {body}
      <Submit>{groups.length === 1 ? "Make the list" : "Make a list for each supplier"}</Submit>
    </Form>
  );
}

type NeedProps = {
  readonly need: ItemOrdering;
  readonly index: number;
  readonly units: UnitSystem;
  readonly changes: boolean;
};

function Need({ need, index, units, changes }: NeedProps) {
  const { item, advice, policy } = need;
  const amount = (quantity: number): string => shownQuantity(quantity, item.unit, units);
  return (
    <li className="plate grid gap-3 p-4 lg:grid-cols-[1fr_1fr]">
      <div className="space-y-2">
        <p className="flex flex-wrap items-center gap-x-3 gap-y-1">
          <TextLink href={`/stock/${item.id}`}>{item.name}</TextLink>
          {advice.reason ? (
            <Badge tone={REASON_TONE[advice.reason]}>{ORDER_REASON_WORDS[advice.reason]}</Badge>
          ) : null}
        </p>
        <p className="text-sm text-zinc">
          {amount(advice.position.value)} there or on its way; order at {amount(need.reorderPoint)}
          {policy.mode === "WORKED_OUT" && need.workedPoint
            ? ", worked out"
            : ", set by hand"}.{" "}
          <TextLink href={`/stock/${item.id}/ordering`}>How it is ordered</TextLink>
        </p>
        {changes ? (
          <>
            <input
              type="hidden"
              name={slot("item", index)}
              value={itemChoiceText({ itemId: item.id, unit: item.unit })}
            />
            <CheckField
              name={slot("chosen", index)}
              label={`Put ${item.name} on the list`}
              defaultChecked
              required
            />
            <QuantityField
              name={slot("quantity", index)}
              label={`How much ${item.name}`}
              unit={item.unit}
              {...(advice.quantity > 0 ? { value: advice.quantity } : {})}
              hint={
                item.packQuantity === null
                  ? undefined
                  : `Rounded up to packs of ${exactQuantity(item.packQuantity, item.unit, units)}.`
              }
              required
            />
          </>
        ) : (
          <p>Buy {amount(advice.quantity)}.</p>
        )}
      </div>
      <div className="space-y-3">
        <Figure worked={advice.position} />
        {policy.mode === "WORKED_OUT" && need.workedPoint ? (
          <Figure worked={need.workedPoint} />
        ) : null}
      </div>
    </li>
  );
}
