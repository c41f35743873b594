import type { UnitSystem } from "@/lib/units";
import type { Layout } from "@/lib/services";
import { LoadDrawing, Notice, Said } from "@/app/ui";

type Props = {
  readonly layout: Layout | null;
  readonly tank: { readonly name: string; readonly anodes: readonly unknown[] };
  readonly units: UnitSystem;
};

/** How a load hangs in its tank, drawn; or that a person has laid it out, where no arrangement is known. */
export function HowItHangs({ layout, tank, units }: Props) {
  if (!layout) return null;
  const { load, packing, parts } = layout;
  if (!packing.packed) {
    return (
      <Notice tone="brass" title="Hang it as it was laid out by hand">
        <p>
          <Said>{packing.words}</Said> Keep every piece clear of the others and of the anode; look
          again before the current goes on.
        </p>
      </Notice>
    );
  }
  return (
    <LoadDrawing
      name={tank.name}
      load={load}
      space={packing.space}
      places={packing.places}
      levelMm={packing.levelMm}
      parts={parts}
      anode={tank.anodes.length > 0}
      units={units}
    />
  );
}
