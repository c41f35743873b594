import { chosenOption, type Db, quotesOfJob } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Bill, type RateCard, taxed, taxPolicy } from "@/lib/pricing";

type Piece = Pick<Bill, "lines" | "taxes">;

/** What of a job's quotes its customer accepted. */
export type Accepted = {
  readonly pieces: readonly Piece[];
  readonly quoteNumbers: readonly number[];
  /** asked before work begins, of all of them */
  readonly depositMinor: number;
};

/** The accepted options of a job's quotes, oldest first, each with the taxes that the customer read. */
export async function acceptedOf(db: Db, jobId: string): Promise<Accepted> {
  const quotes = [...(await quotesOfJob(db, jobId))].reverse();
  const accepted = quotes.flatMap(({ number, versions }) =>
    versions
      .filter(({ state }) => state === "ACCEPTED")
      .map((version) => ({ number, option: chosenOption(version) })),
  );
  return {
    pieces: accepted.map(({ option }) => ({
      lines: option.lines.map(({ partId, label, detail, taxCode, netMinor, taxMinor }) => ({
        partId,
        label,
        detail,
        quantity: null,
        taxCode,
        netMinor,
        taxMinor,
      })),
      taxes: option.taxes,
    })),
    quoteNumbers: accepted.map(({ number }) => number),
    depositMinor: accepted.reduce((all, { option }) => all + option.depositMinor, 0),
  };
}

/** Work or a reduction agreed after the quote. */
export type Extra = {
  readonly label: string;
  /** whole minor units, with the tax where the rate card's prices include it; below 0 is a reduction */
  readonly amountMinor: number;
  /** of the rate card in force */
  readonly taxCode: string;
};

/** Lines agreed after the quote, taxed by the rates in force. @throws Refusal invalid where a tax code is none of them */
export function extraPiece(extras: readonly Extra[], rates: RateCard): Piece {
  extras.forEach(({ taxCode }, index) => {
    if (!rates.taxRules.some(({ code }) => code === taxCode)) {
      throw new Refusal("invalid", "This tax is no longer on the rate card.", {
        [`taxCode${index}`]: "Choose one of the list.",
      });
    }
  });
  const { lines, taxes } = taxed(extras, taxPolicy(rates), rates.currency);
  return {
    lines: extras.map(({ label, taxCode }, index) => ({
      partId: null,
      label,
      detail: "",
      quantity: null,
      taxCode,
      netMinor: lines[index]?.netMinor ?? 0,
      taxMinor: lines[index]?.taxMinor ?? 0,
    })),
    taxes,
  };
}
