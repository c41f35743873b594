import { formatDate, type ShopSettings } from "@/lib/server";
import type { LearnedAnodeView } from "@/lib/services";
import { formatMeasure } from "@/lib/units";
import { Figure, Figures, Table, TextLink } from "@/app/ui";

type Props = { readonly anodes: readonly LearnedAnodeView[]; readonly shop: ShopSettings };

/** Weighings of one anode shown here; all of them stand on the page of its tank. */
const SHOWN = 5;

/** φ of each anode with its working, and the weighings it rests on. */
export function AnodesLearned({ anodes, shop }: Props) {
  const weighings = anodes.flatMap((anode) =>
    anode.weighings.slice(0, SHOWN).map((weighing) => ({ anode, ...weighing })),
  );
  return (
    <div className="space-y-4">
      <Figures>
        {anodes.map(({ id, name, tankName, lossFactor }) => (
          <Figure key={id} worked={lossFactor} label={`${name} in ${tankName}: φ`} />
        ))}
      </Figures>
      {weighings.length > 0 ? (
        <Table
          caption={`The newest weighings, up to ${SHOWN} of each anode`}
          rows={weighings}
          rowKey={({ anode, at }) => `${anode.id} ${at.toISOString()}`}
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
            { head: "Weighed", cell: ({ at }) => formatDate(at, shop) },
            {
              head: "Mass",
              numeric: true,
              cell: ({ massG, errorG }) =>
                `${formatMeasure("steelMass", massG, shop.unitSystem)} ± ${formatMeasure("steelMass", errorG, shop.unitSystem)}`,
            },
          ]}
        />
      ) : (
        <p className="text-zinc">
          No anode was weighed since it was hung: these are what its soda makes likely.
        </p>
      )}
    </div>
  );
}
