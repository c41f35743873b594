import type { Metadata } from "next";
import { requireActorWith, shopSettings } from "@/lib/server";
import { seeSupplies } from "@/lib/services";
import { Page } from "@/app/ui";
import { addTankAction } from "../actions";
import { TankForm } from "../tank-form";
import { newTank, supplyOptions } from "../tank-values";

export const metadata: Metadata = { title: "New tank" };

export default async function NewTankPage() {
  const actor = await requireActorWith("set-up-tanks");
  const shop = await shopSettings();
  const supplies = await seeSupplies(actor);
  return (
    <Page title="New tank" narrow>
      <TankForm
        action={addTankAction}
        values={newTank(shop.unitSystem)}
        supplies={supplyOptions(supplies)}
        submit="Add the tank"
      />
    </Page>
  );
}
