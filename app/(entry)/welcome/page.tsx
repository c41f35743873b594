import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { CheckField, ChoiceGroup, Form, Page, Section, Submit, TextField } from "@/app/ui";
import { isShopOpen } from "@/lib/server";
import { openShopAction } from "./actions";
import { PlaceFields } from "./place-fields";
import { PLACES } from "./places";

export const metadata: Metadata = { title: "Open the shop" };

/** The currencies of the places, and some more that shops ask for. Settings take any other ISO 4217 code. */
const CURRENCIES = [
  ...new Set([...PLACES.map(({ currency }) => currency), "NOK", "PLN", "CZK", "JPY"]),
];

export default async function WelcomePage() {
  if (await isShopOpen()) redirect("/sign-in");
  return (
    <Page title="Open the shop" kicker="First visit" narrow>
      <p>
        You are the first here. The one-time code stands in the terminal where the service was
        started.
      </p>
      <Form action={openShopAction} label="Open the shop" className="space-y-8">
        <TextField
          name="setupCode"
          label="One-time code"
          autoComplete="off"
          required
          placeholder="XXXX-XXXX-XXXX"
        />
        <Section title="You, the owner" id="owner">
          <OwnerFields />
        </Section>
        <Section title="The shop" id="shop">
          <div className="space-y-4">
            <TextField name="shopName" label="Name of the shop" required />
            <PlaceFields zones={Intl.supportedValuesOf("timeZone")} currencies={CURRENCIES} />
          </div>
        </Section>
        <ChoiceGroup legend="Begin with">
          <CheckField
            name="contents"
            type="radio"
            value="EMPTY"
            label="An empty shop"
            defaultChecked
            hint="Tanks and stock are yours to enter. Rates begin with plain figures: set your own before the first quote."
          />
          <CheckField
            name="contents"
            type="radio"
            value="EXAMPLE"
            label="The example shop"
            hint="Invented tanks, customers and six months of work, to look around in."
          />
        </ChoiceGroup>
        <Submit size="bench">Open the shop</Submit>
      </Form>
    </Page>
  );
}

function OwnerFields() {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      <TextField name="ownerName" label="Your name" autoComplete="name" required />
      <TextField
        name="ownerEmail"
        label="Your e-mail"
        type="email"
        autoComplete="username"
        required
      />
      <TextField
        name="password"
        label="A password"
        type="password"
        autoComplete="new-password"
        required
        hint="A few words are easy to keep in mind. At least 10 characters."
        className="sm:col-span-2"
      />
    </div>
  );
}
