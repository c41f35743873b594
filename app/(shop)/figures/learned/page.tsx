import type { Metadata } from "next";
import { load, requireActor, shopSettings } from "@/lib/server";
import { shopLearned } from "@/lib/services";
import { Empty, Figure, Figures, LinkButton, Page, Section, TextLink } from "@/app/ui";
import { AnodesLearned } from "./anodes-learned";
import { HoursLearned } from "./hours-learned";

export const metadata: Metadata = { title: "What this shop has learned" };

/** What the shop's own runs, readings and weighings say against the model, and how its forecasts held. */
export default async function LearnedPage() {
  const actor = await requireActor();
  const shop = await shopSettings();
  const {
    runs,
    shop: mean,
    classes,
    coverage,
    anodes,
    tanks,
  } = await load(() => shopLearned(actor));
  return (
    <Page title="What this shop has learned" kicker={<TextLink href="/figures">Figures</TextLink>}>
      <p className="max-w-prose">
        New plans take these in: hours, the current a tank draws, and how fast its anodes go. They
        get better with each load that is read and finished, and each anode that is weighed.
      </p>
      <Section title="Hours against the model" id="hours">
        {runs === 0 ? (
          <Empty action={<LinkButton href="/runs">To the runs</LinkButton>}>
            No load has come out yet. Finish one, and say whether it was just clean: the hours of
            the next plans are learned from it.
          </Empty>
        ) : (
          <HoursLearned mean={mean} classes={classes} />
        )}
      </Section>
      <Section title="How the forecasts held" id="coverage">
        {coverage ? (
          <div className="space-y-3">
            <Figures>
              {coverage.figures.map((worked) => (
                <Figure key={worked.name} worked={worked} />
              ))}
            </Figures>
            <p className="text-zinc">
              Not counted: {coverage.bounds} whose time is known by a bound alone.
            </p>
          </div>
        ) : (
          <Empty>
            No part was pulled just as it was clean yet. Only of such parts is the time known.
          </Empty>
        )}
      </Section>
      <Section title="Clamps and bath of each tank" id="tanks">
        {tanks.length === 0 ? (
          <Empty action={<LinkButton href="/tanks">To the tanks</LinkButton>}>
            No load was read yet. Volts and amps of its loads tell a tank’s clamps and bath.
          </Empty>
        ) : (
          <Figures>
            {tanks.flatMap(({ id, name, contact, bath }) => [
              <Figure key={`${id} contact`} worked={contact} label={`${name}: ${contact.name}`} />,
              <Figure key={`${id} bath`} worked={bath} label={`${name}: ${bath.name}`} />,
            ])}
          </Figures>
        )}
      </Section>
      <Section title="How much of the charge takes iron" id="anodes">
        {anodes.length === 0 ? (
          <Empty action={<LinkButton href="/tanks">To the tanks</LinkButton>}>
            No anode hangs in any tank. Hang one from the page of its tank.
          </Empty>
        ) : (
          <AnodesLearned anodes={anodes} shop={shop} />
        )}
      </Section>
    </Page>
  );
}
