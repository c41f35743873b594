"use client";

import { useState } from "react";
import type { WaitingPart } from "@/lib/services";
import { Facts, Form, LinkButton, Submit, TextField } from "@/app/ui";
import { randomKey } from "../random-key";
import { bookSlotAction } from "./actions";
import { type Clock, lengthWords } from "./clock";
import { Sheet } from "./sheet";
import type { Offer } from "./slot-block";
import type { BoardSpan } from "./span";

type SlotSheetProps = {
  readonly part: WaitingPart;
  readonly offer: Offer;
  readonly plannedFor: string;
  readonly clock: Clock;
  /** the days to come back to */
  readonly span: BoardSpan;
  readonly onClose: () => void;
};

/** A free time for a part: book it, or plan the part for that tank first. */
export function SlotSheet({ part, offer, plannedFor, clock, span, onClose }: SlotSheetProps) {
  const [key] = useState(randomKey);
  return (
    <Sheet
      title={`${offer.tankName} for ${part.description}`}
      kicker={`Job ${part.jobNumber}, part ${part.mark}`}
      onClose={onClose}
    >
      <Facts
        facts={[
          { label: "Load", value: clock.when(offer.startsAtMs) },
          { label: "Pull", value: clock.when(offer.pullAtMs) },
          { label: "Tank held for", value: lengthWords(offer.endsAtMs - offer.startsAtMs) },
        ]}
      />
      {offer.planned ? (
        <Form action={bookSlotAction} label="Book it" className="space-y-4">
          <input type="hidden" name="tankId" value={offer.tankId} />
          <input type="hidden" name="partIds" value={part.partId} />
          <input type="hidden" name="startsAt" value={new Date(offer.startsAtMs).toISOString()} />
          <input type="hidden" name="idempotencyKey" value={key} />
          <input type="hidden" name="view" value={span.view} />
          <input type="hidden" name="from" value={span.from} />
          <TextField name="notes" label="Note for the bench" />
          <Submit size="bench" className="w-full">
            Book it
          </Submit>
        </Form>
      ) : (
        <>
          <p>
            It is planned for {plannedFor}. Plan it for {offer.tankName} first: its bath, current
            and hours differ there.
          </p>
          <LinkButton href={`/parts/${part.partId}`} kind="main" size="bench">
            Plan it for this tank
          </LinkButton>
        </>
      )}
      <p>
        <LinkButton href={`/parts/${part.partId}/book`}>
          Book it together with other parts
        </LinkButton>
      </p>
    </Sheet>
  );
}
