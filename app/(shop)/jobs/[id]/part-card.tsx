import Image from "next/image";
import type { jobById } from "@/lib/services";
import { Badge, formatNumber, TextLink } from "@/app/ui";
import { PART_STATE, VERDICT } from "../../words";

type Part = Awaited<ReturnType<typeof jobById>>["parts"][number];

/** One part of a job at a glance, with its tag's mark. */
export function PartCard({ part }: { readonly part: Part }) {
  const state = PART_STATE[part.state];
  const verdict = part.verdict && VERDICT[part.verdict.outcome];
  return (
    <li className="plate flex gap-4 p-4">
      <span className="flex size-14 shrink-0 items-center justify-center rounded-full border-2 border-magnetite text-xl font-bold">
        {part.mark}
      </span>
      <div className="min-w-0 flex-1 space-y-1">
        <h3 className="text-lg font-semibold break-words">
          <TextLink href={`/parts/${part.id}`}>
            {part.quantity > 1 ? `${part.quantity} × ` : ""}
            {part.description}
          </TextLink>
        </h3>
        <p className="flex flex-wrap gap-2">
          {state ? <Badge tone={state.tone}>{state.word}</Badge> : null}
          {verdict && part.state !== "REFUSED" ? (
            <Badge tone={verdict.tone}>
              {verdict.word}
              {part.verdict.overruled ? ", overruled" : ""}
            </Badge>
          ) : null}
        </p>
        {part.plan ? (
          <p className="text-zinc">
            {part.plan.tank.name}, {formatNumber(part.plan.hoursP50)} to{" "}
            {formatNumber(part.plan.hoursP90)} h
          </p>
        ) : null}
      </div>
      {part.photoId ? (
        <Image
          src={`/photos/${part.photoId}?size=thumb`}
          alt=""
          width={80}
          height={80}
          unoptimized
          className="size-20 shrink-0 rounded object-cover"
        />
      ) : null}
    </li>
  );
}
