import { roundHalfEven } from "@/lib/money";
import { total } from "./part-price";
import type { TaxTotal } from "./tax";

/** One line of a bill. Whole minor units; a reduction is negative. */
export type BilledLine = {
  readonly partId: string | null;
  readonly label: string;
  readonly detail: string;
  /** null where the line is not counted in pieces */
  readonly quantity: number | null;
  readonly taxCode: string;
  readonly netMinor: number;
  readonly taxMinor: number;
};

/** Lines with their tax by rate, adding up. */
export type Bill<Line extends BilledLine = BilledLine> = {
  readonly lines: readonly Line[];
  readonly taxes: readonly TaxTotal[];
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
};

/** A line of a credit note, and which line of the statement it takes back, counted from 0. */
export type CreditedLine = BilledLine & { readonly ofPosition: number };

/**
 * Puts what was accepted, and what was agreed later, on one bill.
 *
 * Each piece keeps its own tax to the minor unit, so that a customer who accepted a price reads the same price; taxes of
 * the same code, name and percent are then added.
 *
 * @param pieces lines with their taxes: the accepted options, then extra work and reductions
 * @throws RangeError where a piece does not add up
 * @example billOf([accepted, extra]).totalMinor
 */
export function billOf(pieces: readonly Pick<Bill, "lines" | "taxes">[]): Bill {
  pieces.forEach(checkTaxes);
  const lines = pieces.flatMap((piece) => piece.lines);
  const netMinor = total(lines.map((line) => line.netMinor));
  const taxMinor = total(lines.map((line) => line.taxMinor));
  return {
    lines,
    taxes: addTaxes(pieces.flatMap((piece) => piece.taxes)),
    netMinor,
    taxMinor,
    totalMinor: netMinor + taxMinor,
  };
}

function checkTaxes({ lines, taxes }: Pick<Bill, "lines" | "taxes">): void {
  for (const code of new Set([...lines.map((line) => line.taxCode), ...taxes.map(codeOf)])) {
    const ofLines = total(lines.filter((line) => line.taxCode === code).map(taxOf));
    const ofRates = total(taxes.filter((tax) => tax.code === code).map(taxOf));
    if (ofLines !== ofRates) {
      throw new RangeError(
        `tax “${code}” must be the same by line and by rate, got ${ofLines} and ${ofRates}`,
      );
    }
  }
}

const codeOf = ({ code }: TaxTotal): string => code;
const taxOf = ({ taxMinor }: { readonly taxMinor: number }): number => taxMinor;

function addTaxes(taxes: readonly TaxTotal[]): readonly TaxTotal[] {
  const added = new Map<string, TaxTotal>();
  for (const tax of taxes) {
    const key = JSON.stringify([tax.code, tax.name, tax.percent]);
    const before = added.get(key) ?? { ...tax, baseMinor: 0, taxMinor: 0 };
    added.set(key, {
      ...before,
      baseMinor: before.baseMinor + tax.baseMinor,
      taxMinor: before.taxMinor + tax.taxMinor,
    });
  }
  return [...added.values()];
}

/** What is still to be credited of one line of a statement. */
export type CreditableLine = BilledLine & {
  readonly position: number;
  /** of net and tax, with the line's own sign */
  readonly leftNetMinor: number;
  readonly leftTaxMinor: number;
};

/** The lines of a statement with what earlier credit notes left of each. @example creditable(bill, [])[0]?.leftNetMinor */
export function creditable(
  statement: Pick<Bill, "lines">,
  earlier: readonly CreditedLine[],
): readonly CreditableLine[] {
  return statement.lines.map((line, position) => {
    const ours = earlier.filter(({ ofPosition }) => ofPosition === position);
    return {
      ...line,
      position,
      leftNetMinor: line.netMinor - total(ours.map((credit) => credit.netMinor)),
      leftTaxMinor: line.taxMinor - total(ours.map(taxOf)),
    };
  });
}

/** So much of one line, tax included, in whole minor units. */
export type AskedCredit = { readonly position: number; readonly grossMinor: number };

/**
 * What a credit note takes back of a statement: all that is left of it, or amounts of single lines.
 *
 * Net and tax of a line are what its whole credit so far rounds to, less what was credited before: in however many
 * pieces a statement is credited, at the end each line, each rate and the tax are nothing, to the minor unit.
 *
 * @param earlier lines of the credit notes before
 * @param asked   "rest", or amounts above 0 of lines above 0, each line once, at most what is left of it
 * @throws RangeError naming the line and what is left of it
 * @example creditOf(statement, [], [{ position: 0, grossMinor: 1190 }]).taxMinor // 190
 */
export function creditOf(
  statement: Bill,
  earlier: readonly CreditedLine[],
  asked: "rest" | readonly AskedCredit[],
): Bill<CreditedLine> {
  const left = creditable(statement, earlier);
  const lines =
    asked === "rest" ? left.flatMap(restOf) : asked.map((one) => pieceOf(left[one.position], one));
  if (asked !== "rest" && new Set(asked.map(({ position }) => position)).size < asked.length) {
    throw new RangeError("each line can be credited once on a credit note");
  }
  const netMinor = total(lines.map((line) => line.netMinor));
  const taxMinor = total(lines.map(taxOf));
  const taxes = creditedTaxes(statement, earlier, lines);
  return { lines, taxes, netMinor, taxMinor, totalMinor: netMinor + taxMinor };
}

function restOf(line: CreditableLine): CreditedLine[] {
  if (line.leftNetMinor === 0 && line.leftTaxMinor === 0) return [];
  return [asCredit(line, line.leftNetMinor, line.leftTaxMinor)];
}

function pieceOf(line: CreditableLine | undefined, asked: AskedCredit): CreditedLine {
  const grossMinor = line ? line.netMinor + line.taxMinor : 0;
  const leftMinor = line ? line.leftNetMinor + line.leftTaxMinor : 0;
  const asks = asked.grossMinor;
  if (!line || !(Number.isSafeInteger(asks) && asks > 0 && grossMinor > 0 && asks <= leftMinor)) {
    throw new RangeError(
      `of line ${asked.position + 1} at most ${Math.max(0, leftMinor)} minor units can be credited, got ${asks}`,
    );
  }
  const upToNow = grossMinor - leftMinor + asks;
  const netMinor = scaled(line.netMinor, upToNow, grossMinor) - (line.netMinor - line.leftNetMinor);
  return asCredit(line, netMinor, asks - netMinor);
}

/** whole · part / all, to the nearest whole number; exact, since products of amounts outgrow a plain number. */
function scaled(whole: number, part: number, all: number): number {
  const product = BigInt(whole) * BigInt(part);
  const quotient = product / BigInt(all);
  const remainder = product - quotient * BigInt(all);
  return Number(quotient) + roundHalfEven(Number(remainder) / all);
}

function asCredit(line: CreditableLine, netMinor: number, taxMinor: number): CreditedLine {
  const { partId, label, detail, quantity, taxCode, position } = line;
  return { partId, label, detail, quantity, taxCode, netMinor, taxMinor, ofPosition: position };
}

function creditedTaxes(
  statement: Bill,
  earlier: readonly CreditedLine[],
  lines: readonly CreditedLine[],
): readonly TaxTotal[] {
  const ofCode = (all: readonly BilledLine[], code: string) =>
    all.filter(({ taxCode }) => taxCode === code);
  const codes = [...new Set(lines.map(({ taxCode }) => taxCode))];
  return codes.flatMap((code) => {
    const rates = statement.taxes.filter((tax) => tax.code === code);
    const before = total(ofCode(earlier, code).map(taxOf));
    const after = before + total(ofCode(lines, code).map(taxOf));
    const baseMinor = total(ofCode(lines, code).map(({ netMinor }) => netMinor));
    const was = shared(before, rates);
    const is = shared(after, rates);
    return rates.map((rate, index) => ({
      ...rate,
      baseMinor,
      taxMinor: (is[index] ?? 0) - (was[index] ?? 0),
    }));
  });
}

/** A code's tax over its rates, by what each has of the statement: each sum of the first few is rounded, so all add up. */
function shared(minor: number, rates: readonly TaxTotal[]): readonly number[] {
  const all = total(rates.map(taxOf));
  let soFar = 0;
  let given = 0;
  return rates.map((rate) => {
    soFar += rate.taxMinor;
    // Where a reduction took all the tax of a code away, there is nothing to share by: the first rate bears it.
    const upTo = all === 0 ? minor : scaled(minor, soFar, all);
    const share = upTo - given;
    given = upTo;
    return share;
  });
}
