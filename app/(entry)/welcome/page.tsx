import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { CheckField, ChoiceGroup, Form, Page, SelectField, Submit, TextField } from "@/app/ui";
import { isShopOpen } from "@/lib/server";
import { openShopAction } from "./actions";

export const metadata: Metadata = { title: "Open the shop" };

/** What most shops choose from; any other ISO 4217 code is taken too. */
const CURRENCIES = [
  "EUR",
  "GBP",
  "USD",
  "CAD",
  "AUD",
  "NZD",
  "CHF",
  "SEK",
  "NOK",
  "DKK",
  "PLN",
  "CZK",
  "JPY",
];
const LOCALES = [
  ["en-IE", "English, Ireland"],
  ["en-GB", "English, United Kingdom"],
  ["en-US", "English, United States"],
  ["en-CA", "English, Canada"],
  ["en-AU", "English, Australia"],
  ["en-NZ", "English, New Zealand"],
] as const;

export default async function WelcomePage() {
  if (await isShopOpen()) redirect("/sign-in");
  const zones = Intl.supportedValuesOf("timeZone").map((zone) => ({ value: zone, label: zone }));
  return (
    <Page title="Open the shop" kicker="First visit" narrow>
      <p>
        You are the first here. The one-time code stands in the terminal where the service was
        started.
      </p>
      <Form action={openShopAction} label="Open the shop">
        <TextField
          name="setupCode"
          label="One-time code"
          autoComplete="off"
          required
          placeholder="XXXX-XXXX-XXXX"
        />
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
          hint="At least 10 characters: a few words are easy to keep in mind."
        />
        <TextField name="shopName" label="Name of the shop" required />
        <div className="grid gap-4 sm:grid-cols-2">
          <SelectField
            name="timeZone"
            label="Time zone"
            options={zones}
            defaultValue="Europe/Dublin"
            required
          />
          <SelectField
            name="locale"
            label="Dates and numbers"
            options={LOCALES.map(([value, label]) => ({ value, label }))}
            required
          />
          <SelectField
            name="currency"
            label="Currency"
            options={CURRENCIES.map((code) => ({ value: code, label: code }))}
            required
          />
          <SelectField
            name="unitSystem"
            label="Units"
            options={[
              { value: "METRIC", label: "metric (mm, g, L, °C)" },
              { value: "US", label: "US customary (in, lb, gal, °F)" },
            ]}
            required
          />
        </div>
        <ChoiceGroup legend="Begin with">
          <CheckField
            name="contents"
            type="radio"
            value="EMPTY"
            label="An empty shop"
            defaultChecked
            hint="Tanks, stock and rates are yours to enter."
          />
          <CheckField
            name="contents"
            type="radio"
            value="EXAMPLE"
            label="The example shop"
            hint="Invented tanks, customers and six months of work, to look around in."
          />
        </ChoiceGroup>
        <Submit>Open the shop</Submit>
      </Form>
    </Page>
  );
}
