import { randomUUID } from "node:crypto";
import { DIAGNOSIS_LIMITS } from "@/lib/diagnosis";
import { formatWhen, type shopSettings } from "@/lib/server";
import type { TankPage } from "@/lib/services";
import { formatMeasures } from "@/lib/units";
import {
  Confirm,
  Empty,
  Facts,
  Form,
  MeasureField,
  Section,
  SelectField,
  Submit,
  Table,
  TextField,
} from "@/app/ui";
import { lengthWords, saltWords, temperatureWords, volumeWords } from "../../measures";
import { exactQuantity } from "../../stock/quantity";
import { BathStanding, MeasureForm } from "./bath-measured";
import { disposeBathAction, mixBathAction, topUpAction } from "../actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop; readonly keeps: boolean };

/** The bath in the tank, and what can be done with it. */
export function BathSection({ view, shop, keeps }: Props) {
  const { bath } = view.tank;
  return (
    <Section title="Bath" id="bath">
      {bath ? (
        <div className="space-y-3">
          <Contents view={view} shop={shop} />
          <BathStanding view={view} shop={shop} />
        </div>
      ) : (
        <Empty>The tank is drained. Mix a bath before a load goes in.</Empty>
      )}
      {keeps && !view.tank.retiredAt ? (
        <div className="mt-3 grid items-start gap-3 md:grid-cols-2">
          {bath ? <TopUp view={view} shop={shop} /> : <Mix view={view} shop={shop} />}
          <MeasureForm view={view} />
          {bath && !view.running ? (
            <Confirm
              label="Dispose of this bath"
              question="Let it settle first. The water is alkaline and the sludge is rust, paint and what was in them: where it may go is for local rules to say. Paint that may hold lead goes to a licensed carrier."
              action={disposeBathAction}
              confirm="It is disposed of"
            >
              <input type="hidden" name="tankId" value={view.tank.id} />
              <TextField name="note" label="Where it went" required />
            </Confirm>
          ) : null}
        </div>
      ) : null}
    </Section>
  );
}

function Contents({ view: { tank, levelMm }, shop }: Omit<Props, "keeps">) {
  const { bath } = tank;
  if (!bath) return null;
  const perLitre = bath.chargeAh / bath.volumeL;
  return (
    <div className="space-y-3">
      <div className="plate p-4">
        <Facts
          facts={[
            { label: "Amount", value: volumeWords(bath.volumeL, shop.unitSystem) },
            { label: "Level", value: lengthWords(levelMm, shop.unitSystem) },
            { label: "Temperature", value: temperatureWords(bath.temperatureC, shop.unitSystem) },
            {
              label: "Carbonate",
              value: `${saltWords(bath.carbonateG, shop.unitSystem)}, anhydrous`,
            },
            { label: "Bicarbonate", value: saltWords(bath.bicarbonateG, shop.unitSystem) },
            { label: "Mixed", value: formatWhen(bath.mixedAt, shop) },
            { label: "Charge passed", value: `${bath.chargeAh.toFixed(0)} A·h` },
            {
              label: "Of its life",
              value: `${formatMeasures(
                "bathCharge",
                [perLitre, DIAGNOSIS_LIMITS.spentAhPerL],
                shop.unitSystem,
                " of about ",
              )} (assumption)`,
            },
          ]}
        />
      </div>
      <details>
        <summary className="min-h-11 py-2 text-bath">What was put in</summary>
        <Table
          caption="Additions to this bath"
          rows={bath.additions}
          rowKey={({ id }) => id}
          columns={[
            { head: "When", cell: ({ at }) => formatWhen(at, shop) },
            {
              head: "Water",
              numeric: true,
              cell: ({ waterL }) => volumeWords(waterL, shop.unitSystem),
            },
            {
              head: "Soda",
              numeric: true,
              cell: ({ saltG }) => (saltG > 0 ? saltWords(saltG, shop.unitSystem) : ""),
            },
            { head: "Note", wideOnly: true, cell: ({ note }) => note },
          ]}
        />
      </details>
    </div>
  );
}

function SaltFields({ view: { salts }, shop }: Omit<Props, "keeps">) {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      <SelectField
        name="saltItemId"
        label="Soda"
        options={[
          { value: "", label: "none" },
          ...salts.map(({ itemId, name, onHand }) => ({
            value: itemId,
            label: `${name} (${exactQuantity(onHand, "GRAM", shop.unitSystem)} on hand)`,
          })),
        ]}
      />
      <MeasureField
        name="saltG"
        label="Weighed"
        kind="salt"
        hint="Cups and spoons do too, but can be a third off."
      />
    </div>
  );
}

function Mix({ view, shop }: Omit<Props, "keeps">) {
  const { tank } = view;
  return (
    <details className="plate" open>
      <summary className="flex min-h-12 items-center px-4 font-semibold">Mix a bath</summary>
      <div className="border-t border-line p-4">
        <Form action={mixBathAction} label="Mix a bath">
          <input type="hidden" name="tankId" value={tank.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <p>
            Goggles and gloves. Water first, then the soda, stirred clear. Washing soda or baking
            soda only: table salt makes chlorine.
          </p>
          <MeasureField
            name="levelMm"
            label="Water up to"
            kind="length"
            hint="Above the floor, before a part goes in. How much that is follows from the tank's measures."
            value={tank.workingLevelMm}
            required
          />
          <SaltFields view={view} shop={shop} />
          <MeasureField
            name="temperatureC"
            label="Temperature"
            kind="temperature"
            hint="The workshop's where it is left empty."
          />
          <Submit>Mixed</Submit>
        </Form>
      </div>
    </details>
  );
}

function TopUp({ view, shop }: Omit<Props, "keeps">) {
  return (
    <details className="plate">
      <summary className="flex min-h-12 items-center px-4 font-semibold">Top up</summary>
      <div className="border-t border-line p-4">
        <Form action={topUpAction} label="Top up" clearWhenDone>
          <input type="hidden" name="tankId" value={view.tank.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <p>
            Plain water for what evaporated: soda stays behind. Switch off before a hand goes in.
          </p>
          <div className="grid gap-4 sm:grid-cols-2">
            <MeasureField
              name="levelBeforeMm"
              label="Level now"
              kind="length"
              value={view.levelMm}
              rough
              required
            />
            <MeasureField
              name="levelAfterMm"
              label="Level after"
              kind="length"
              value={view.tank.workingLevelMm}
              required
            />
          </div>
          <SaltFields view={view} shop={shop} />
          <TextField name="note" label="Note" />
          <Submit>Topped up</Submit>
        </Form>
      </div>
    </details>
  );
}
