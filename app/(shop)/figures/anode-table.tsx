import { formatDay, type ShopSettings } from "@/lib/server";
import type { AnodeFigure } from "@/lib/services";
import { formatMeasure } from "@/lib/units";
import { Bar, Table, TextLink } from "@/app/ui";
import { replaceWords } from "./replace-words";

type Props = { readonly anodes: readonly AnodeFigure[]; readonly shop: ShopSettings };

/** Every anode in use with what it lost and the day it is due. */
export function AnodeTable({ anodes, shop }: Props) {
  return (
    <Table
      caption="Wear of each anode"
      rows={anodes}
      rowKey={({ anode }) => anode.id}
      columns={[
        {
          head: "Anode",
          cell: ({ anode }) => (
            <>
              <TextLink href={`/figures/anodes/${anode.id}`}>{anode.name}</TextLink>
              <span className="block text-sm text-zinc">in {anode.tankName}</span>
            </>
          ),
        },
        {
          head: "Lost, and where it is due",
          cell: ({ anode, lostG, lostShare }) => (
            <span className="flex min-w-28 flex-col gap-1.5">
              <span className="whitespace-nowrap">
                {formatMeasure("steelMass", lostG, shop.unitSystem)}, {Math.round(lostShare * 100)}{" "}
                %
              </span>
              <Bar
                share={lostShare}
                mark={anode.replaceAtShare}
                tone={lostShare >= anode.replaceAtShare ? "oxide" : "bath"}
              />
            </span>
          ),
        },
        {
          head: "Replace by",
          cell: (figure) => {
            const { day, range } = replaceWords(figure, (date) => formatDay(date, shop));
            return (
              <>
                <span className="font-semibold">{day}</span>
                {range ? <span className="block text-sm text-zinc">{range}</span> : null}
              </>
            );
          },
        },
      ]}
    />
  );
}
