import type { Help } from "@/lib/scheduling";
import type { PromisedPart } from "@/lib/services";
import { Form, Submit, TextLink } from "@/app/ui";
import { joinAction } from "./actions";
import { brokenWords, gainWords, helpWords, type Say } from "./words";

type HelpsProps = {
  readonly promised: PromisedPart;
  readonly say: Say;
  readonly books: boolean;
};

/** What would make it earlier, the most gained first, each with where one does it. */
export function Helps({ promised: { promise, names, part }, say, books }: HelpsProps) {
  return (
    <ul className="plate divide-y divide-line">
      {promise.wouldHelp.map((help) => {
        const words = helpWords(help, names, say);
        const broken = brokenWords(help, names);
        return (
          <li key={words} className="space-y-1 p-3">
            <p>
              <strong>{words}</strong>: {gainWords(help, say)}.
            </p>
            {broken ? <p className="text-oxide">▲ {broken}</p> : null}
            <Act help={help} partId={part.id} books={books} />
          </li>
        );
      })}
    </ul>
  );
}

type ActProps = { readonly help: Help; readonly partId: string; readonly books: boolean };

function Act({ help, partId, books }: ActProps) {
  if (help.kind === "OPEN") {
    return <TextLink href="/settings#special">Set hours for that day in the settings</TextLink>;
  }
  if (help.kind === "GIVE_WAY") return <TextLink href="/board">Move them on the board</TextLink>;
  if (help.kind !== "SHARE" || !books) return null;
  const [moved] = help.moved;
  if (!moved || help.moved.length > 1) return null;
  return (
    <Form action={joinAction} label="Put it in with a booked load">
      <input type="hidden" name="runId" value={moved.from.id} />
      <input type="hidden" name="partId" value={partId} />
      <Submit kind="plain">Put it in with that run</Submit>
    </Form>
  );
}
