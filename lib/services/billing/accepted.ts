import { type Db, quotesOfJob } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { money, percentOf } from "@/lib/money";
import type { Bill, RateCard } from "@/lib/pricing";

type Piece = Pick<Bill, "lines" | "taxes">;

/** What of a job's quotes its customer accepted. */
export type Accepted = {
  readonly pieces: readonly Piece[];
  readonly quoteNumbers: readonly number[];
  readonly depositMinor: number;
};

const ONLY_TAX = "STANDARD";

/** The accepted options of a job's quotes, oldest first, each with its own taxes. */
export async function acceptedOf(db: Db, jobId: string): Promise<Accepted> {
  const quotes = [...(await quotesOfJob(db, jobId))].reverse();
  const accepted = quotes.flatMap(({ number, versions }) =>
    versions.filter(({ state }) => state === "ACCEPTED").map((version) => ({ number, version })),
  );
  return {
    pieces: accepted.map(({ version }) => ({
      lines: version.lines.map((line) => ({ ...line, quantity: null, taxCode: ONLY_TAX })),
      taxes: [
        {
          code: ONLY_TAX,
          name: version.taxName,
          percent: version.taxPercent,
          baseMinor: version.netMinor,
          taxMinor: version.taxMinor,
        },
      ],
    })),
    quoteNumbers: accepted.map(({ number }) => number),
    depositMinor: 0,
  };
}

/** Work or a reduction agreed after the quote. */
export type Extra = {
  readonly label: string;
  /** whole minor units, as the shop's prices are written; below 0 is a reduction */
  readonly amountMinor: number;
  readonly taxCode: string;
};

/** What may be chosen as the tax of a line. */
export function taxChoices(rates: RateCard): readonly { code: string; label: string }[] {
  return [{ code: ONLY_TAX, label: `${rates.taxName}, ${rates.taxPercent} %` }];
}

/** Lines agreed after the quote, taxed by the rates in force. @throws Refusal invalid where a tax code is none of them */
export function extraPiece(extras: readonly Extra[], rates: RateCard): Piece {
  const known = new Set(taxChoices(rates).map(({ code }) => code));
  extras.forEach(({ taxCode }, index) => {
    if (!known.has(taxCode)) {
      throw new Refusal("invalid", "This tax is no longer on the rate card.", {
        [`taxCode${index}`]: "Choose one of the list.",
      });
    }
  });
  const lines = extras.map(({ label, amountMinor, taxCode }) => ({
    partId: null,
    label,
    detail: "",
    quantity: null,
    taxCode,
    netMinor: amountMinor,
    taxMinor: percentOf(money(amountMinor, rates.currency), rates.taxPercent).minor,
  }));
  const sum = (pick: (line: (typeof lines)[number]) => number): number =>
    lines.reduce((all, line) => all + pick(line), 0);
  const taxes =
    lines.length === 0
      ? []
      : [
          {
            code: ONLY_TAX,
            name: rates.taxName,
            percent: rates.taxPercent,
            baseMinor: sum(({ netMinor }) => netMinor),
            taxMinor: sum(({ taxMinor }) => taxMinor),
          },
        ];
  return { lines, taxes };
}
