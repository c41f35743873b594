import type { SlotOffer } from "@/lib/services";
import { Button, CheckField } from "@/app/ui";

/** Other parts that wait for the same tank, to go in with this one. A plain GET form: the offer is worked out anew. */
export function Together({ offer }: { readonly offer: SlotOffer }) {
  const { others, together, part } = offer;
  if (others.length === 0) return null;
  return (
    <details className="plate" open={together.length > 1}>
      <summary className="flex min-h-12 items-center px-4 font-semibold">
        Put other parts in with it ({others.length} wait for this tank)
      </summary>
      <form method="get" className="space-y-2 border-t border-line p-4">
        {others.map((other) => (
          <CheckField
            key={other.id}
            name="with"
            value={other.id}
            defaultChecked={together.some(({ id }) => id === other.id)}
            label={`Job ${other.job.number}, part ${other.mark}: ${other.quantity > 1 ? `${other.quantity} × ` : ""}${other.description}`}
          />
        ))}
        <p className="text-sm text-zinc">
          Whether all of them hang clear of each other and of the anode is worked out and drawn.
        </p>
        <Button kind="plain">Together with {part.description}</Button>
      </form>
    </details>
  );
}
