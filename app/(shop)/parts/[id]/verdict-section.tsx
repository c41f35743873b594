import { type Actor, may } from "@/lib/access";
import { formatWhen } from "@/lib/server";
import type { partById } from "@/lib/services";
import { type Finding, mayGoIn, VERDICT_WORDS } from "@/lib/treatment";
import { Badge, Confirm, Notice, Said, Section, TextArea, type Tone } from "@/app/ui";
import { overruleAction } from "../actions";

type Props = {
  readonly part: Awaited<ReturnType<typeof partById>>;
  readonly actor: Actor;
  readonly shop: { readonly timeZone: string; readonly locale: string };
  readonly changeable: boolean;
};

const FINDING: Readonly<Record<string, { readonly word: string; readonly tone: Tone }>> = {
  REFUSE: { word: "must not", tone: "oxide" },
  REFER: { word: "refer", tone: "oxide" },
  CONDITION: { word: "condition", tone: "brass" },
  CAUTION: { word: "caution", tone: "zinc" },
};

/** May it go in: the answer, and every reason with its source and what to do. */
export function VerdictSection({ part, actor, shop, changeable }: Props) {
  const { verdict } = part;
  if (!verdict) return null;
  const goesIn = mayGoIn(verdict.outcome);
  const findings = verdict.findings.findings;
  const overrulable = !goesIn && !verdict.findings.absolute && changeable;
  return (
    <Section title="May it go in?" id="verdict">
      <div className="space-y-4">
        <Notice tone={goesIn ? "bath" : "oxide"} title={VERDICT_WORDS[verdict.outcome]}>
          <p className="text-sm">
            {verdict.decidedBy.name}, {formatWhen(verdict.decidedAt, shop)}
            {verdict.overruled ? `. Overruled: ${verdict.overruleReason}` : ""}
          </p>
        </Notice>
        {findings.length > 0 ? (
          <ul className="plate divide-y divide-line">
            {findings.map((finding) => (
              <FindingItem key={finding.rule} finding={finding} />
            ))}
          </ul>
        ) : null}
        <p className="text-sm text-zinc">
          These are cautions from common practice and the sources named. Local codes and licensed
          practice decide; when in doubt, refuse.
        </p>
        {overrulable && may(actor, "overrule-verdict") ? (
          <Confirm
            label="Overrule this verdict"
            question="You let the part in against the rules. Your name and reason stay on record."
            action={overruleAction}
            confirm="Let it in"
          >
            <input type="hidden" name="id" value={part.id} />
            <TextArea name="reason" label="Why" required />
          </Confirm>
        ) : null}
      </div>
    </Section>
  );
}

function FindingItem({ finding }: { readonly finding: Finding }) {
  const word = FINDING[finding.outcome];
  return (
    <li className="space-y-1 p-4">
      <p className="flex flex-wrap items-center gap-2 font-semibold">
        {word ? <Badge tone={word.tone}>{word.word}</Badge> : null}
        {finding.title}
      </p>
      <p>
        <Said>{finding.reason}</Said>
      </p>
      <p>
        <span className="text-zinc">What to do: </span>
        <Said>{finding.whatToDo}</Said>
      </p>
      {finding.caution ? <p className="text-oxide">{finding.caution}</p> : null}
      <p className="text-sm text-zinc">Source: {finding.source}</p>
    </li>
  );
}
