import { formatWhen } from "@/lib/server";
import type { partById } from "@/lib/services";
import { Notice, TextLink } from "@/app/ui";

type Props = {
  readonly part: Awaited<ReturnType<typeof partById>>;
  readonly shop: { readonly timeZone: string; readonly locale: string };
};

/** A relief bake that is due or in the oven: the part must not leave before it is over. */
export function BakeNotice({ part, shop }: Props) {
  const { bake } = part;
  if (!bake || bake.endedAt) return null;
  const [latest] = part.dips;
  const title = bake.startedAt
    ? `In the oven since ${formatWhen(bake.startedAt, shop)}, for ${bake.hours} h.`
    : `Relief bake of ${bake.hours} h still to do${
        bake.mustStartBy ? `: into the oven by ${formatWhen(bake.mustStartBy, shop)}` : ""
      }.`;
  return (
    <Notice tone="brass" title={title}>
      <p>
        Hard steel that keeps the hydrogen of the bath can crack without warning. It does not leave
        before the bake is over.
        {latest ? (
          <>
            {" "}
            <TextLink href={`/runs/${latest.run.id}`}>
              Record it with run {latest.run.number}
            </TextLink>
          </>
        ) : null}
      </p>
    </Notice>
  );
}
