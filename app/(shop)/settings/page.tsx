import type { Metadata } from "next";
import { formatDay, requireActorWith, shopSettings } from "@/lib/server";
import { shopSettingsFor } from "@/lib/services";
import { Empty, Form, Page, Section, Submit, TextField } from "@/app/ui";
import { closeDayAction, reopenDayAction } from "./actions";
import { HoursForm } from "./hours-form";
import { PaymentTermsForm } from "./payment-terms-form";
import { RateCards } from "./rate-cards";
import { ShopForm } from "./shop-form";
import { SpecialOpenings } from "./special-openings";
import { WorkForm } from "./work-form";

export const metadata: Metadata = { title: "Settings" };

export default async function SettingsPage() {
  const actor = await requireActorWith("set-up-shop");
  const place = await shopSettings();
  const { shop, hours, closedDays, specialOpenings, rateCards, currencyLocked } =
    await shopSettingsFor(actor, new Date());
  return (
    <Page title="Settings">
      <Section title="The shop" id="shop" plate>
        <ShopForm key={shop.unitSystem} shop={shop} currencyLocked={currencyLocked} />
      </Section>
      <Section title="Opening hours" id="hours" plate>
        <HoursForm hours={hours} />
      </Section>
      <Section title="Hands and baths" id="work" plate>
        <WorkForm shop={shop} />
      </Section>
      <Section title="Being paid" id="payment" plate>
        <PaymentTermsForm shop={shop} />
      </Section>
      <Section title="Days with other hours" id="special">
        <SpecialOpenings openings={specialOpenings} place={place} />
      </Section>
      <Section title="Closed days" id="closed">
        {closedDays.length === 0 ? (
          <Empty>No day ahead is marked closed.</Empty>
        ) : (
          <ul className="plate divide-y divide-line">
            {closedDays.map(({ day, reason }) => (
              <li
                key={day.toISOString()}
                className="flex flex-wrap items-center justify-between gap-3 p-3"
              >
                <span>
                  {formatDay(day, place)}{" "}
                  {reason ? <span className="text-zinc">{reason}</span> : null}
                </span>
                <Form action={reopenDayAction} label={`Open again on ${formatDay(day, place)}`}>
                  <input type="hidden" name="day" value={day.toISOString().slice(0, 10)} />
                  <Submit kind="plain">Open again</Submit>
                </Form>
              </li>
            ))}
          </ul>
        )}
        <Form
          action={closeDayAction}
          label="Close a day"
          clearWhenDone
          className="mt-4 grid items-end gap-4 sm:grid-cols-3"
        >
          <TextField name="day" label="Day" type="date" required />
          <TextField name="reason" label="Why" />
          <Submit kind="plain">Close that day</Submit>
        </Form>
      </Section>
      <Section title="Rates" id="rates">
        <RateCards cards={rateCards} place={place} />
      </Section>
    </Page>
  );
}
