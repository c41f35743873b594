import type { AnodeWish, cuttingChoices } from "@/lib/services";
import { ANODE_WAY_WORDS, ANODE_WAYS } from "@/lib/stock";
import { Form, MeasureField, NumberField, SelectField, Submit, UnitsHint } from "@/app/ui";
import { planCutAction } from "./actions";

type Choices = Awaited<ReturnType<typeof cuttingChoices>>;
type Props = {
  readonly choices: Choices;
  readonly wish: AnodeWish | null;
  readonly tankId: string | undefined;
};

/** What is to hang where: all that its pieces follow from. */
export function WishForm({ choices: { tanks, steels }, wish, tankId }: Props) {
  return (
    <Form action={planCutAction} label="Plan an anode" className="plate space-y-4 p-4">
      <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
        <SelectField
          name="tankId"
          label="For the tank"
          options={tanks.map(({ id, name }) => ({ value: id, label: name }))}
          defaultValue={wish?.tankId ?? tankId}
          required
        />
        <SelectField
          name="itemId"
          label="Steel"
          options={steels.map(({ itemId, name }) => ({ value: itemId, label: name }))}
          defaultValue={wish?.itemId}
          required
        />
        <SelectField
          name="way"
          label="How it hangs"
          options={ANODE_WAYS.map((way) => ({ value: way, label: ANODE_WAY_WORDS[way] }))}
          defaultValue={wish?.way ?? "STRIPS"}
          required
        />
        <MeasureField
          name="heightMm"
          label="Height above the floor"
          kind="length"
          value={wish?.heightMm ?? 50}
          rough={wish === null}
          hint="Ring: of its middle. Strips and rods: of their foot, clear of the sludge."
          required
        />
        <MeasureField
          name="overhangMm"
          label="For the clamp"
          kind="length"
          value={wish?.overhangMm ?? 100}
          rough={wish === null}
          hint="Ring: bent up from it, past the level. Strips and rods: what stands over the rim."
          required
        />
        <NumberField
          name="count"
          label="Strips or rods"
          unit="pieces"
          defaultValue={wish?.count ?? 4}
          required
        />
        <MeasureField
          name="offsetMm"
          label="Ring: between wall and steel"
          kind="length"
          value={wish?.offsetMm ?? 5}
          rough={wish === null}
          required
        />
        <MeasureField
          name="gapMm"
          label="Ring: left open"
          kind="length"
          value={wish?.gapMm ?? 40}
          rough={wish === null}
          required
        />
        <MeasureField
          name="cornerMm"
          label="Ring in a box: inside radius of corners"
          kind="length"
          value={wish?.cornerMm ?? 25}
          rough={wish === null}
          hint="At least the bar's thickness, or it cracks."
          required
        />
      </div>
      <UnitsHint kind="length" />
      <Submit>Plan the cut</Submit>
    </Form>
  );
}
