import type { Metadata } from "next";
import { requireActorWith, load } from "@/lib/server";
import { seeSupplies, seeTank } from "@/lib/services";
import { Confirm, Form, Notice, Page, Section, Submit, TextLink } from "@/app/ui";
import { bringBackTankAction, changeTankAction, retireTankAction } from "../../actions";
import { TankForm } from "../../tank-form";
import { supplyOptions, valuesOf } from "../../tank-values";

export const metadata: Metadata = { title: "Change a tank" };

export default async function EditTankPage({
  params,
}: {
  readonly params: Promise<{ id: string }>;
}) {
  const actor = await requireActorWith("set-up-tanks");
  const { id } = await params;
  const { tank } = await load(() => seeTank(actor, id, new Date()));
  const supplies = await seeSupplies(actor);
  return (
    <Page
      title={`Change ${tank.name}`}
      kicker={<TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink>}
      narrow
    >
      {tank.bath ? (
        <Notice tone="zinc" title="A bath is in it">
          Its measures can change once the bath is disposed of; name, supply and leads at any time.
        </Notice>
      ) : null}
      <TankForm
        action={changeTankAction}
        values={valuesOf(tank)}
        supplies={supplyOptions(supplies)}
        submit="Save"
      />
      <Section title="Out of use" id="retire">
        {tank.retiredAt ? (
          <Form action={bringBackTankAction} label="Bring back">
            <input type="hidden" name="tankId" value={tank.id} />
            <Submit kind="plain">Put it back in use</Submit>
          </Form>
        ) : (
          <Confirm
            label="Take this tank out of use"
            question="It leaves the board and takes no more loads. Its history stays, and it can be brought back."
            action={retireTankAction}
            confirm="Take it out of use"
          >
            <input type="hidden" name="tankId" value={tank.id} />
          </Confirm>
        )}
      </Section>
    </Page>
  );
}
