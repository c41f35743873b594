import type { Metadata } from "next";
import { may } from "@/lib/access";
import { requireActor } from "@/lib/server";
import { seeSupplies, type SupplyView } from "@/lib/services";
import { Empty, LinkButton, Page, Table, TextLink } from "@/app/ui";

export const metadata: Metadata = { title: "Supplies" };

const SUPPLY_KIND: Readonly<Record<SupplyView["kind"], string>> = {
  CHARGER: "battery charger",
  BENCH: "bench supply",
  BATTERY: "battery",
};

export default async function SuppliesPage() {
  const actor = await requireActor();
  const supplies = await seeSupplies(actor);
  const newSupply = may(actor, "set-up-tanks") ? (
    <LinkButton href="/supplies/new" kind="main">
      New supply
    </LinkButton>
  ) : null;
  return (
    <Page title="Supplies" kicker={<TextLink href="/tanks">Tanks</TextLink>} actions={newSupply}>
      {supplies.length === 0 ? (
        <Empty action={newSupply}>
          No supplies yet: the battery chargers and bench supplies that drive the tanks.
        </Empty>
      ) : (
        <Table
          caption="Supplies"
          rows={supplies}
          rowKey={({ id }) => id}
          columns={[
            {
              head: "Name",
              cell: ({ id, name }) => <TextLink href={`/supplies/${id}`}>{name}</TextLink>,
            },
            { head: "Kind", cell: ({ kind }) => SUPPLY_KIND[kind], wideOnly: true },
            {
              head: "Without load",
              numeric: true,
              cell: ({ openVoltageV }) => `${openVoltageV} V`,
            },
            {
              head: "All day",
              numeric: true,
              cell: ({ ratedCurrentA, dutyFactor }) =>
                `${(ratedCurrentA * dutyFactor).toFixed(1)} A`,
            },
            {
              head: "Drives",
              cell: ({ tanks }) =>
                tanks.length === 0
                  ? "nothing"
                  : tanks.map(({ id, name }, index) => (
                      <span key={id}>
                        {index > 0 ? ", " : ""}
                        <TextLink href={`/tanks/${id}`}>{name}</TextLink>
                      </span>
                    )),
            },
          ]}
        />
      )}
    </Page>
  );
}
