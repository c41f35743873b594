"use client";

import { useSyncExternalStore } from "react";
import { SelectField } from "@/app/ui";
import { placeOf, PLACES, zoneOf } from "./places";

type Props = { readonly zones: readonly string[]; readonly currencies: readonly string[] };

const never = () => () => undefined;
const sameWords = (words: readonly string[]) => words.map((word) => ({ value: word, label: word }));

/** Where the shop is: begins with what the browser says about itself, once it can be asked. */
export function PlaceFields({ zones, currencies }: Props) {
  const language = useSyncExternalStore(
    never,
    () => navigator.language,
    () => "",
  );
  const browserZone = useSyncExternalStore(
    never,
    () => Intl.DateTimeFormat().resolvedOptions().timeZone,
    () => "",
  );
  const place = placeOf(language);
  return (
    // A new guess begins the fields anew; it comes before anybody has chosen.
    <div key={`${language} ${browserZone}`} className="grid gap-4 sm:grid-cols-2">
      <SelectField
        name="timeZone"
        label="Time zone"
        options={sameWords(zones)}
        defaultValue={zoneOf(browserZone, zones)}
        required
      />
      <SelectField
        name="locale"
        label="Dates and numbers"
        options={PLACES.map(({ locale, label }) => ({ value: locale, label }))}
        defaultValue={place.locale}
        required
      />
      <SelectField
        name="currency"
        label="Currency"
        options={sameWords(currencies)}
        defaultValue={place.currency}
        hint="It stays once amounts are stored."
        required
      />
      <SelectField
        name="unitSystem"
        label="Units"
        options={[
          { value: "METRIC", label: "metric (mm, kg, L, °C)" },
          { value: "US", label: "US customary (in, lb, gal, °F)" },
        ]}
        defaultValue={place.unitSystem}
        required
      />
    </div>
  );
}
