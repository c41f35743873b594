/** Where shops are: what a country usually writes in, pays with and measures by. Each can be chosen otherwise. */
export type Place = {
  readonly locale: string;
  readonly label: string;
  readonly currency: string;
  readonly unitSystem: "METRIC" | "US";
};

const metric = (locale: string, label: string, currency: string): Place => ({
  locale,
  label,
  currency,
  unitSystem: "METRIC",
});

export const PLACES: readonly [Place, ...Place[]] = [
  metric("en-IE", "English, Ireland", "EUR"),
  metric("en-GB", "English, United Kingdom", "GBP"),
  { locale: "en-US", label: "English, United States", currency: "USD", unitSystem: "US" },
  metric("en-CA", "English, Canada", "CAD"),
  metric("en-AU", "English, Australia", "AUD"),
  metric("en-NZ", "English, New Zealand", "NZD"),
  metric("en-ZA", "English, South Africa", "ZAR"),
  metric("en-IN", "English, India", "INR"),
  metric("en-DE", "English, Germany", "EUR"),
  metric("en-NL", "English, Netherlands", "EUR"),
  metric("en-CH", "English, Switzerland", "CHF"),
  metric("en-SE", "English, Sweden", "SEK"),
  metric("en-DK", "English, Denmark", "DKK"),
];

const FALLBACK_ZONE = "Europe/Dublin";

/** The place of a browser's language, or the first one. @example placeOf("en-US") // English, United States */
export function placeOf(language: string): Place {
  return PLACES.find(({ locale }) => locale === language) ?? PLACES[0];
}

/** The browser's time zone where the shop's list has it. */
export function zoneOf(zone: string, zones: readonly string[]): string {
  return zones.includes(zone) ? zone : FALLBACK_ZONE;
}
