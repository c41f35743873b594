import type { Metadata } from "next";
import { may } from "@/lib/access";
import { requireActor, load } from "@/lib/server";
import { seeSupply, type SupplyView } from "@/lib/services";
import { Confirm, Facts, Page, TextLink } from "@/app/ui";
import { changeSupplyAction, retireSupplyAction } from "../actions";
import { SupplyForm } from "../supply-form";

export const metadata: Metadata = { title: "Supply" };

export default async function SupplyPage({ params }: { readonly params: Promise<{ id: string }> }) {
  const actor = await requireActor();
  const { id } = await params;
  const supply = await load(() => seeSupply(actor, id));
  return (
    <Page title={supply.name} kicker={<TextLink href="/supplies">Supplies</TextLink>} narrow>
      {may(actor, "set-up-tanks") ? (
        <>
          <SupplyForm action={changeSupplyAction} supply={supply} submit="Save" />
          <Confirm
            label="Take this supply out of use"
            question="It can no longer be given to a tank. Runs that it drove stay as they are."
            action={retireSupplyAction}
            confirm="Take it out of use"
          >
            <input type="hidden" name="supplyId" value={supply.id} />
          </Confirm>
        </>
      ) : (
        <Plate supply={supply} />
      )}
    </Page>
  );
}

function Plate({ supply }: { readonly supply: SupplyView }) {
  return (
    <div className="plate p-4">
      <Facts
        facts={[
          { label: "Without load", value: `${supply.openVoltageV} V` },
          { label: "Resistance inside", value: `${supply.innerResistanceOhm} Ω` },
          { label: "Rated current", value: `${supply.ratedCurrentA} A` },
          { label: "Of it all day", value: `${Math.round(supply.dutyFactor * 100)} %` },
          { label: "Capacity", value: supply.capacityAh ? `${supply.capacityAh} A·h` : null },
          { label: "Efficiency", value: `${Math.round(supply.efficiency * 100)} %` },
        ]}
      />
    </div>
  );
}
