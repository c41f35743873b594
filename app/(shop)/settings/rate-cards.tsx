import { formatMoney, minorDigits, money } from "@/lib/money";
import { formatDay } from "@/lib/server";
import { formatMeasure, type UnitSystem } from "@/lib/units";
import { Empty, Facts, Form, MeasureField, NumberField, Submit, TextField } from "@/app/ui";
import { addRateCardAction } from "./actions";
import { MONEY_FIELDS, NUMBER_FIELDS, perWords, shownRate } from "./rate-fields";

type Card = Readonly<
  Record<(typeof MONEY_FIELDS)[number]["name"] | (typeof NUMBER_FIELDS)[number]["name"], number>
> & {
  readonly finishMinutesPerM2: number;
  readonly id: string;
  readonly validFrom: Date;
  readonly taxName: string;
};
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
    { label: "Name of the tax", value: card.taxName },
  ];
}

function RateForm({ latest, place }: { readonly latest: Card | undefined; readonly place: Place }) {
  const digits = minorDigits(place.currency);
  const entered = (minor: number): string => (minor / 10 ** digits).toFixed(digits);
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
              latest ? entered(shownRate(field, latest[field.name], place.unitSystem)) : ""
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
        <TextField
          name="taxName"
          label="Name of the tax"
          defaultValue={latest?.taxName ?? "Tax"}
          required
        />
      </div>
      <Submit>Add these rates</Submit>
    </Form>
  );
}
