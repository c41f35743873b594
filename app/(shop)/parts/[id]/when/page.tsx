import type { Metadata } from "next";
import { type Actor, may } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import type { PromisedSlot } from "@/lib/scheduling";
import {
  formatDay,
  formatDuration,
  formatWhen,
  load,
  requireActor,
  shopSettings,
} from "@/lib/server";
import { promisePart, type PromisedPart } from "@/lib/services";
import { Facts, Form, LinkButton, Notice, Page, Said, Section, Submit, TextLink } from "@/app/ui";
import { promiseAction } from "./actions";
import { Helps } from "./helps";
import { heldBackWords, type Say, waitsWords } from "./words";

export const metadata: Metadata = { title: "When can it be ready?" };

type Props = { readonly params: Promise<{ id: string }> };

/** The day that a waiting part can be promised for, why not earlier, and what would help. */
export default async function WhenPage({ params }: Props) {
  const actor = await requireActor();
  const { id } = await params;
  const shop = await shopSettings();
  const promised = await load(() => promisedOr(actor, id));
  if (typeof promised === "string") {
    return (
      <Page
        title="When can it be ready?"
        kicker={<TextLink href={`/parts/${id}`}>The part</TextLink>}
        narrow
      >
        <Notice tone="brass" title="There is nothing to promise now">
          <Said>{promised}</Said>
        </Notice>
      </Page>
    );
  }
  const { part, promise } = promised;
  const say: Say = {
    when: (atMs) => formatWhen(new Date(atMs), shop),
    day: (day) => formatDay(new Date(`${day}T00:00:00Z`), shop),
    length: formatDuration,
  };
  const books = may(actor, "book");
  return (
    <Page
      title={`When can ${part.description} be ready?`}
      kicker={
        <>
          <TextLink href={`/parts/${part.id}`}>
            Job {part.jobNumber}, part {part.mark}
          </TextLink>
          {part.rush ? ", rush" : ""}
        </>
      }
      narrow
    >
      <Answer promised={promised} say={say} promises={may(actor, "take-in")} books={books} />
      <Why promised={promised} say={say} />
      {promise.wouldHelp.length > 0 ? (
        <Section title="What would make it earlier" id="helps">
          <Helps promised={promised} say={say} books={books} />
        </Section>
      ) : null}
      <OtherTanks promised={promised} say={say} />
    </Page>
  );
}

/** The promise, or in words why there is none: it is booked by now, or no tank takes it. */
async function promisedOr(actor: Actor, partId: string): Promise<PromisedPart | string> {
  try {
    return await promisePart(actor, partId, new Date());
  } catch (error) {
    if (isRefusal(error) && error.code === "conflict") return error.message;
    throw error;
  }
}

type PartProps = { readonly promised: PromisedPart; readonly say: Say };

function Answer({
  promised: { part, promise, names },
  say,
  promises,
  books,
}: PartProps & { readonly promises: boolean; readonly books: boolean }) {
  const { slot } = promise;
  if (!slot) {
    return (
      <Notice tone="oxide" title="No tank has room for it in the next eight weeks">
        Look at the opening hours, at what would help below, or plan it for another tank.
      </Notice>
    );
  }
  return (
    <div className="plate space-y-4 p-4">
      <p className="text-3xl leading-tight font-bold">{say.day(slot.day)}</p>
      <p>
        Nine in ten such parts have left the bench by {say.when(slot.doneMs)}
        {medianWords(slot, say)}.
      </p>
      <Facts
        facts={[
          ...slot.loads.map(({ tankId, startsAtMs, pullAtMs }, at) => ({
            label: slot.loads.length > 1 ? `End ${at + 1}` : "Tank",
            value: `${names.tanks[tankId] ?? ""}: load ${say.when(startsAtMs)}, pull ${say.when(pullAtMs)}`,
          })),
          {
            label: "Promised now",
            value: part.promisedFor ? say.day(part.promisedFor) : "nothing yet",
          },
        ]}
      />
      <div className="flex flex-wrap items-start gap-3">
        {promises && part.promisedFor !== slot.day ? (
          <Form action={promiseAction} label="Promise the day">
            <input type="hidden" name="jobId" value={part.jobId} />
            <input type="hidden" name="partId" value={part.id} />
            <input type="hidden" name="day" value={slot.day} />
            <Submit>Promise this day</Submit>
          </Form>
        ) : null}
        {books ? <LinkButton href={`/parts/${part.id}/book`}>Book it</LinkButton> : null}
      </div>
      <p className="text-sm text-zinc">
        Reckoned with what is booked now: a slot is only yours once it is booked.
      </p>
    </div>
  );
}

/** A pull that waits for the morning anyway is no earlier half the time. */
function medianWords({ median, doneMs }: PromisedSlot, say: Say): string {
  if (!median) return "";
  return median.doneMs < doneMs
    ? `; half of them by ${say.when(median.doneMs)}`
    : ", and no earlier half the time: it waits for somebody to pull it";
}

function Why({ promised: { promise, names }, say }: PartProps) {
  const lines = promise.whyNotEarlier.flatMap(({ heldBack, waitsForPull }) => [
    ...heldBack.map((held) => heldBackWords(held, names, say)),
    ...(waitsForPull ? [waitsWords(waitsForPull, say)] : []),
  ]);
  if (!promise.slot) return null;
  return (
    <Section title="Why not earlier" id="why">
      {lines.length === 0 ? (
        <p>It can go in at once: its own hours are all it waits for.</p>
      ) : (
        <ol className="plate divide-y divide-line">
          {lines.map((line) => (
            <li key={line} className="p-3">
              {line}
            </li>
          ))}
        </ol>
      )}
    </Section>
  );
}

function OtherTanks({ promised: { promise, notTaken, names }, say }: PartProps) {
  if (promise.runnersUp.length === 0 && notTaken.length === 0) return null;
  return (
    <Section title="In other tanks" id="others">
      <ul className="plate divide-y divide-line">
        {promise.runnersUp.map(({ loads, day }) => {
          const last = loads.at(-1);
          return last ? (
            <li key={`${last.tankId} ${last.startsAtMs}`} className="p-3">
              <strong>{names.tanks[last.tankId]}</strong>: ready on {say.day(day)}, loaded{" "}
              {say.when(last.startsAtMs)}
            </li>
          ) : null;
        })}
        {notTaken.map(({ tankId, why }) => (
          <li key={tankId} className="p-3 text-zinc">
            <strong>{names.tanks[tankId]}</strong>: not there. <Said>{why}</Said>
          </li>
        ))}
      </ul>
    </Section>
  );
}
