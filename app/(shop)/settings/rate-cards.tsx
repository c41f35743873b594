import { formatMoney, money, ROUNDING_WORDS, ROUNDINGS } from "@/lib/money";
import { OVERHEAD_BASES, OVERHEAD_BASIS_WORDS, type RateCard } from "@/lib/pricing";
import { formatDay } from "@/lib/server";
import { formatMeasure, type UnitSystem } from "@/lib/units";
import {
  CheckField,
  Empty,
  Facts,
  Form,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextField,
} from "@/app/ui";
import { addRateCardAction } from "./actions";
import {
  BandFields,
  clock,
  daysWords,
  entered,
  SkillFields,
  StepFields,
  TaxFieldsets,
} from "./rate-list-fields";
import { MONEY_FIELDS, NUMBER_FIELDS, perWords, shownRate } from "./rate-fields";

type Card = Omit<RateCard, "currency"> & { readonly id: string; readonly validFrom: Date };
type Place = {
  readonly currency: string;
  readonly locale: string;
  readonly timeZone: string;
  readonly unitSystem: UnitSystem;
};
type Props = { readonly cards: readonly Card[]; readonly place: Place };

export function RateCards({ cards, place }: Props) {
  return (
    <div className="space-y-4">
      {cards.length === 0 ? <Empty>No rates yet: quotes need a card.</Empty> : null}
      {cards.map((card, index) => (
        <details key={card.id} className="plate">
          <summary className="min-h-11 px-4 py-3 font-semibold">
            From {formatDay(card.validFrom, place)}
            {index === 0 ? " (newest)" : ""}
          </summary>
          <div className="border-t border-line p-4">
            <Facts facts={factsOf(card, place)} />
          </div>
        </details>
      ))}
      <details className="plate">
        <summary className="min-h-11 px-4 py-3 font-semibold">New rates from a day on</summary>
        <div className="border-t border-line p-4">
          <RateForm latest={cards[0]} place={place} />
        </div>
      </details>
    </div>
  );
}

function factsOf(card: Card, place: Place) {
  return [
    ...MONEY_FIELDS.map((field) => ({
      label: `${field.label}, ${perWords(field, place.unitSystem)}`,
      value: formatMoney(
        money(shownRate(field, card[field.name], place.unitSystem), place.currency),
        place.locale,
      ),
    })),
    {
      label: "Finishing",
      value: formatMeasure("workOnArea", card.finishMinutesPerM2, place.unitSystem),
    },
    ...NUMBER_FIELDS.map(({ name, label, unit }) => ({ label, value: `${card[name]} ${unit}` })),
    { label: "Overhead goes by", value: OVERHEAD_BASIS_WORDS[card.overheadBasis] },
    ...listFacts(card, place),
    { label: "Prices are told", value: card.pricesIncludeTax ? "with their tax" : "before tax" },
    { label: "Rounding", value: ROUNDING_WORDS[card.rounding] },
  ];
}

/** What stands in the lists of a card, a fact each. */
function listFacts({ skills, energyBands, discountSteps, taxRules }: Card, place: Place) {
  const amount = (minor: number) => formatMoney(money(minor, place.currency), place.locale);
  return [
    ...skills.map(({ name, perHourMinor, tasks }) => ({
      label: `${name} (${tasks.join(", ")}), an hour`,
      value: amount(perHourMinor),
    })),
    ...energyBands.map((band) => ({
      label: `Energy, ${band.name}, ${clock(band.fromMinute)} to ${clock(band.toMinute)}`,
      value: `${amount(band.perKwhMinor)}, ${daysWords(band.days)}`,
    })),
    ...discountSteps.map(({ fromMinor, percent }) => ({
      label: `Discount from ${amount(fromMinor)}`,
      value: `${percent} %`,
    })),
    ...taxRules.map(({ label, taxes }) => ({
      label,
      value: taxes.map(({ name, percent }) => `${name} ${percent} %`).join(" and ") || "no tax",
    })),
  ];
}

function RateForm({ latest, place }: { readonly latest: Card | undefined; readonly place: Place }) {
  return (
    <Form action={addRateCardAction} label="New rates">
      <TextField name="validFrom" label="In force from" type="date" required />
      <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
        {MONEY_FIELDS.map((field) => (
          <NumberField
            key={field.name}
            name={field.name}
            label={`${field.label}, ${perWords(field, place.unitSystem)}`}
            unit={place.currency}
            defaultValue={
              latest
                ? entered(shownRate(field, latest[field.name], place.unitSystem), place.currency)
                : ""
            }
            required
          />
        ))}
        <MeasureField
          name="finishMinutesPerM2"
          label="Finishing"
          kind="workOnArea"
          value={latest?.finishMinutesPerM2}
          required
        />
        {NUMBER_FIELDS.map(({ name, label, unit }) => (
          <NumberField
            key={name}
            name={name}
            label={label}
            unit={unit}
            defaultValue={latest?.[name]}
            required
          />
        ))}
        <SelectField
          name="overheadBasis"
          label="Overhead goes by"
          options={OVERHEAD_BASES.map((value) => ({ value, label: OVERHEAD_BASIS_WORDS[value] }))}
          defaultValue={latest?.overheadBasis ?? "DIRECT_COST"}
          required
        />
        <SelectField
          name="rounding"
          label="Taxes and prices are rounded"
          options={ROUNDINGS.map((value) => ({ value, label: ROUNDING_WORDS[value] }))}
          defaultValue={latest?.rounding ?? "TIES_TO_EVEN"}
          required
        />
        <CheckField
          name="pricesIncludeTax"
          label="Customers are told prices with their tax in them"
          defaultChecked={latest?.pricesIncludeTax ?? false}
        />
      </div>
      <SkillFields skills={latest?.skills ?? []} currency={place.currency} />
      <BandFields bands={latest?.energyBands ?? []} currency={place.currency} />
      <StepFields steps={latest?.discountSteps ?? []} currency={place.currency} />
      <TaxFieldsets rules={latest?.taxRules ?? []} />
      <Submit>Add these rates</Submit>
    </Form>
  );
}
