import { randomUUID } from "node:crypto";
import { DIAGNOSIS_LIMITS } from "@/lib/diagnosis";
import { formatWhen, type shopSettings } from "@/lib/server";
import type { TankPage } from "@/lib/services";
import {
  Confirm,
  Empty,
  Facts,
  Form,
  NumberField,
  Section,
  SelectField,
  Submit,
  Table,
  TextField,
} from "@/app/ui";
import { lengthWords, volumeWords } from "../../measures";
import { disposeBathAction, mixBathAction, topUpAction } from "../actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop; readonly keeps: boolean };

/** The bath in the tank, and what can be done with it. */
export function BathSection({ view, shop, keeps }: Props) {
  const { bath } = view.tank;
  return (
    <Section title="Bath" id="bath">
      {bath ? (
        <Contents view={view} shop={shop} />
      ) : (
        <Empty>The tank is drained. Mix a bath before a load goes in.</Empty>
      )}
      {keeps && !view.tank.retiredAt ? (
        <div className="mt-3 grid items-start gap-3 md:grid-cols-2">
          {bath ? <TopUp view={view} /> : <Mix view={view} />}
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
            { label: "Temperature", value: `${bath.temperatureC.toFixed(0)} °C` },
            { label: "Carbonate", value: `${bath.carbonateG.toFixed(0)} g, anhydrous` },
            { label: "Bicarbonate", value: `${bath.bicarbonateG.toFixed(0)} g` },
            { label: "Mixed", value: formatWhen(bath.mixedAt, shop) },
            { label: "Charge passed", value: `${bath.chargeAh.toFixed(0)} A·h` },
            {
              label: "Of its life",
              value: `${perLitre.toFixed(1)} of about ${DIAGNOSIS_LIMITS.spentAhPerL} A·h/L (assumption)`,
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
              cell: ({ saltG }) => (saltG > 0 ? `${saltG.toFixed(0)} g` : ""),
            },
            { head: "Note", wideOnly: true, cell: ({ note }) => note },
          ]}
        />
      </details>
    </div>
  );
}

function SaltFields({ view: { salts } }: Pick<Props, "view">) {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      <SelectField
        name="saltItemId"
        label="Soda"
        options={[
          { value: "", label: "none" },
          ...salts.map(({ itemId, name, onHand }) => ({
            value: itemId,
            label: `${name} (${onHand} g on hand)`,
          })),
        ]}
      />
      <NumberField name="saltG" label="Weighed" unit="g" />
    </div>
  );
}

function Mix({ view }: Pick<Props, "view">) {
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
          <NumberField
            name="levelMm"
            label="Water up to"
            unit="mm"
            hint="Above the floor, before a part goes in. The litres follow from the tank's measures."
            defaultValue={tank.workingLevelMm}
            required
          />
          <SaltFields view={view} />
          <NumberField
            name="temperatureC"
            label="Temperature"
            unit="°C"
            hint="The workshop's where it is left empty."
          />
          <Submit>Mixed</Submit>
        </Form>
      </div>
    </details>
  );
}

function TopUp({ view }: Pick<Props, "view">) {
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
            <NumberField
              name="levelBeforeMm"
              label="Level now"
              unit="mm"
              defaultValue={Math.round(view.levelMm)}
              required
            />
            <NumberField
              name="levelAfterMm"
              label="Level after"
              unit="mm"
              defaultValue={view.tank.workingLevelMm}
              required
            />
          </div>
          <SaltFields view={view} />
          <TextField name="note" label="Note" />
          <Submit>Topped up</Submit>
        </Form>
      </div>
    </details>
  );
}
