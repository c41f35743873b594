import Link from "next/link";
import type { ReactNode } from "react";
import { Section, type Tone } from "@/app/ui";

export type Line = {
  readonly key: string;
  readonly href: string;
  readonly tone: Tone;
  readonly title: ReactNode;
  readonly detail?: ReactNode;
};

const MARK: Readonly<Record<Tone, readonly [sign: string, colour: string]>> = {
  ink: ["■", "text-magnetite"],
  bath: ["●", "text-bath"],
  oxide: ["▲", "text-oxide"],
  brass: ["◆", "text-brass"],
  zinc: ["○", "text-zinc"],
};

type LinesProps = {
  readonly title: string;
  readonly id: string;
  readonly lines: readonly Line[];
  /** what it means that there is nothing */
  readonly empty: ReactNode;
};

/** Things to do, each a link to where it is done, for a thumb. */
export function Lines({ title, id, lines, empty }: LinesProps) {
  return (
    <Section title={title} id={id}>
      {lines.length === 0 ? (
        <p className="py-2 text-zinc">{empty}</p>
      ) : (
        <ul className="plate divide-y divide-line">
          {lines.map(({ key, href, tone, title: words, detail }) => (
            <li key={key}>
              <Link
                href={href}
                className="flex min-h-14 items-baseline gap-3 px-4 py-3 hover:bg-zinc-wash"
              >
                <span aria-hidden="true" className={`text-sm ${MARK[tone][1]}`}>
                  {MARK[tone][0]}
                </span>
                <span className="min-w-0">
                  <span className="font-semibold">{words}</span>
                  {detail ? <span className="block text-zinc">{detail}</span> : null}
                </span>
              </Link>
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}
