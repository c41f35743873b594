import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import {
  formatDuration,
  formatWhen,
  localInputValue,
  requireActorWith,
  shopSettings,
  load,
} from "@/lib/server";
import { offerSlots, type SlotOffer } from "@/lib/services";
import {
  CheckField,
  Facts,
  Form,
  LinkButton,
  Notice,
  Page,
  Said,
  Section,
  Submit,
  TextField,
  TextLink,
} from "@/app/ui";
import { HowItHangs } from "../../../how-it-hangs";
import { bookAction } from "./actions";
import { reasonWords } from "./reasons";
import { Together } from "./together";

export const metadata: Metadata = { title: "Book a tank" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ with?: string | string[] }>;
};
type Shop = Awaited<ReturnType<typeof shopSettings>>;

export default async function BookPage({ params, searchParams }: Props) {
  const actor = await requireActorWith("book");
  const { id } = await params;
  const { with: chosen = [] } = await searchParams;
  const shop = await shopSettings();
  const withPartIds = Array.isArray(chosen) ? chosen : [chosen];
  const now = new Date();
  const offer = await load(() => offerSlots(actor, { partId: id, withPartIds }, now));
  const { part, tank, load: current } = offer;
  const [nextFree] = offer.slots;
  return (
    <Page
      title={`Book ${tank.name} for ${part.description}`}
      kicker={
        <TextLink href={`/parts/${part.id}`}>
          Job {part.job.number}, part {part.mark}
        </TextLink>
      }
      narrow
    >
      {current ? (
        <div className="plate p-4">
          <Facts
            facts={[
              { label: "Tank", value: <TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink> },
              {
                label: "Under current",
                value: `${formatDuration(current.hours * 3_600_000)}, nine in ten are done by then`,
              },
              {
                label: "Current",
                value: `${current.currentLowA.toFixed(1)} to ${current.currentHighA.toFixed(1)} A`,
              },
              {
                label: "End",
                value: offer.ends > 1 ? `${offer.end} of ${offer.ends}` : null,
              },
              {
                label: "Hands needed",
                value: `${offer.loadMinutes} min to load, ${offer.pullMinutes} min to pull`,
              },
            ]}
          />
        </div>
      ) : null}
      <Together offer={offer} />
      <Room offer={offer} shop={shop} />
      {offer.hindrance ? (
        <Notice tone="oxide" title="It cannot be booked like this">
          <p>
            <Said>{offer.hindrance}</Said>
          </p>
          {nextFree ? (
            <p>
              {tank.name} itself is free from {formatWhen(new Date(nextFree.startsAtMs), shop)}: it
              is the room that lacks, not the time.
            </p>
          ) : null}
          <p className="mt-3">
            <LinkButton href={`/parts/${part.id}`}>Back to the part</LinkButton>
          </p>
        </Notice>
      ) : (
        <Slots offer={offer} shop={shop} now={now} />
      )}
    </Page>
  );
}

/** How several pieces hang together, or that no way was found. */
function Room({ offer: { layout, tank, doubt, slots }, shop }: Omit<SlotsProps, "now">) {
  const several = (layout?.load.parts ?? []).reduce((sum, { quantity }) => sum + quantity, 0) > 1;
  if (doubt) {
    const [nextFree] = slots;
    return (
      <Notice tone="brass" title="They may not fit">
        <p>
          <Said>{doubt}</Said>
        </p>
        {nextFree ? (
          <p>
            {tank.name} is free from {formatWhen(new Date(nextFree.startsAtMs), shop)}, so it is the
            room that is in doubt, not the time.
          </p>
        ) : null}
      </Notice>
    );
  }
  if (!several || !layout?.packing.packed) return null;
  return (
    <Section title="How they hang" id="hang">
      <HowItHangs layout={layout} tank={tank} units={shop.unitSystem} />
    </Section>
  );
}

type SlotsProps = { readonly offer: SlotOffer; readonly shop: Shop; readonly now: Date };

function Slots({ offer, shop, now }: SlotsProps) {
  const { slots, together, tank, doubt } = offer;
  return (
    <Section title="When" id="when">
      <Form action={bookAction} label="Book the tank" className="space-y-6">
        <input type="hidden" name="tankId" value={tank.id} />
        <input type="hidden" name="idempotencyKey" value={randomUUID()} />
        {together.map(({ id }) => (
          <input key={id} type="hidden" name="partIds" value={id} />
        ))}
        <fieldset className="space-y-3">
          <legend className="sr-only">When loading begins</legend>
          {slots.length === 0 ? (
            <p>
              No slot is free in the next six weeks. Look at the opening hours, or at what holds{" "}
              {tank.name}.
            </p>
          ) : null}
          {slots.map((slot, index) => (
            <div key={slot.startsAtMs} className="plate px-4 py-1">
              <CheckField
                type="radio"
                name="slot"
                value={new Date(slot.startsAtMs).toISOString()}
                defaultChecked={index === 0}
                required
                label={
                  <>
                    <strong>Load {formatWhen(new Date(slot.startsAtMs), shop)}</strong>, pull{" "}
                    {formatWhen(new Date(slot.pullAtMs), shop)}
                    {slot.reasons.map((reason) => (
                      <span key={reason.kind} className="block text-sm text-zinc">
                        {reasonWords(reason, shop)}
                      </span>
                    ))}
                  </>
                }
              />
            </div>
          ))}
          <div className="plate space-y-2 px-4 pt-1 pb-4">
            <CheckField
              type="radio"
              name="slot"
              value="own"
              defaultChecked={slots.length === 0}
              required
              label="Another time"
            />
            <TextField
              name="startsAt"
              label="Load at"
              type="datetime-local"
              defaultValue={localInputValue(
                new Date(slots[0]?.startsAtMs ?? now.getTime()),
                shop.timeZone,
              )}
              hint="Within opening hours. When to pull follows."
            />
          </div>
        </fieldset>
        {doubt ? (
          <div className="plate px-4 py-1">
            <CheckField
              name="laidOut"
              label="I laid them out: they fit, clear of each other and of the anode"
              hint="Who says so is kept with the booking."
              required
            />
          </div>
        ) : null}
        <TextField name="notes" label="Note for the bench" />
        <Submit>Book it</Submit>
      </Form>
    </Section>
  );
}
