import { Refusal } from "@/lib/errors";

type Place = { readonly timeZone: string; readonly currency: string; readonly locale: string };

/** @throws Refusal invalid, naming what this system does not know */
export function checkPlace({ timeZone, currency, locale }: Place): void {
  if (!isKnown(() => new Intl.DateTimeFormat("en", { timeZone }))) {
    throw new Refusal("invalid", `“${timeZone}” is not a time zone.`, {
      timeZone: "Choose a zone such as Europe/Dublin.",
    });
  }
  if (!Intl.supportedValuesOf("currency").includes(currency)) {
    throw new Refusal("invalid", `“${currency}” is not a currency.`, {
      currency: "Enter an ISO 4217 code such as EUR.",
    });
  }
  if (!isKnown(() => new Intl.NumberFormat(locale))) {
    throw new Refusal("invalid", `“${locale}” is not a language and country.`, {
      locale: "Enter one such as en-IE.",
    });
  }
}

function isKnown(make: () => unknown): boolean {
  try {
    make();
    return true;
  } catch {
    return false;
  }
}
