/** What changed from one version of a quote to the next. Pure. */
import type { QuoteLineRow, QuoteOptionRow, QuoteVersionRow } from "@/lib/data";

type ComparedLine = Pick<QuoteLineRow, "partId" | "label" | "detail" | "netMinor" | "taxMinor">;
type ComparedOption = Pick<
  QuoteOptionRow,
  "name" | "goal" | "rush" | "totalMinor" | "depositMinor" | "pricesIncludeTax"
> & { readonly lines: readonly ComparedLine[] };
export type ComparedVersion = Pick<
  QuoteVersionRow,
  "version" | "validUntil" | "terms" | "messageToCustomer" | "depositPercent"
> & { readonly options: readonly ComparedOption[] };

/** From one value to another; equal values make no change. */
export type Change<T> = { readonly before: T; readonly after: T };

export type LineChange = {
  readonly label: string;
  /** whole minor units as the customer reads them; null: the line was not there */
  readonly beforeMinor: number | null;
  /** null: the line is there no more */
  readonly afterMinor: number | null;
  /** whether the words of what is done are others */
  readonly otherWords: boolean;
};

export type OptionChange = {
  readonly kind: "added" | "removed" | "changed";
  /** as it is called now; of one removed, as it was */
  readonly name: string;
  /** null where the name is the same */
  readonly nameBefore: string | null;
  /** whole minor units; null where the option was not there, or is no more */
  readonly total: Change<number | null>;
  readonly deposit: Change<number | null>;
  /** only of options that are in both */
  readonly lines: readonly LineChange[];
};

/** A line of text that stands in one of the two only. */
export type TextChange = { readonly kind: "added" | "removed"; readonly text: string };

export type VersionDifference = {
  readonly from: number;
  readonly to: number;
  /** options that changed at all, in the order in which they stand now; removed ones last */
  readonly options: readonly OptionChange[];
  readonly validUntil: Change<Date> | null;
  /** %, of the total */
  readonly depositPercent: Change<number> | null;
  readonly terms: readonly TextChange[];
  readonly message: readonly TextChange[];
  readonly isEmpty: boolean;
};

/**
 * Compares two versions of a quote. An option is the same one where its name is the same, else where the same is done
 * to the parts and both or neither are rush; lines are the same where they are for the same part, or say the same.
 *
 * @example differenceOf(first, second).options[0]?.total // { before: 12000, after: 13500 }
 */
export function differenceOf(before: ComparedVersion, after: ComparedVersion): VersionDifference {
  const pairs = pairOptions(before.options, after.options);
  const options = pairs.flatMap(([old, now]) => optionChange(old, now) ?? []);
  const rest = {
    validUntil:
      before.validUntil.getTime() === after.validUntil.getTime()
        ? null
        : { before: before.validUntil, after: after.validUntil },
    depositPercent:
      before.depositPercent === after.depositPercent
        ? null
        : { before: before.depositPercent, after: after.depositPercent },
    terms: textChanges(before.terms, after.terms),
    message: textChanges(before.messageToCustomer, after.messageToCustomer),
  };
  const isEmpty =
    options.length + rest.terms.length + rest.message.length === 0 &&
    rest.validUntil === null &&
    rest.depositPercent === null;
  return { from: before.version, to: after.version, options, ...rest, isEmpty };
}

type Pair = readonly [before: ComparedOption | null, after: ComparedOption | null];

function pairOptions(
  before: readonly ComparedOption[],
  after: readonly ComparedOption[],
): readonly Pair[] {
  const partners = new Map<ComparedOption, ComparedOption>();
  const taken = new Set<ComparedOption>();
  const pairUp = (isSame: (old: ComparedOption, now: ComparedOption) => boolean) => {
    for (const now of after) {
      if (partners.has(now)) continue;
      const old = before.find((option) => !taken.has(option) && isSame(option, now));
      if (!old) continue;
      partners.set(now, old);
      taken.add(old);
    }
  };
  pairUp((old, now) => old.name.trim().toLowerCase() === now.name.trim().toLowerCase());
  pairUp((old, now) => old.goal === now.goal && old.rush === now.rush);
  return [
    ...after.map((now): Pair => [partners.get(now) ?? null, now]),
    ...before.filter((old) => !taken.has(old)).map((old): Pair => [old, null]),
  ];
}

function optionChange(
  before: ComparedOption | null,
  after: ComparedOption | null,
): OptionChange | null {
  if (before && after) return changedOption(before, after);
  const only = after ?? before;
  return only && oneSided(only, after ? "added" : "removed");
}

function oneSided(
  { name, totalMinor, depositMinor }: ComparedOption,
  kind: "added" | "removed",
): OptionChange {
  const change = (minor: number): Change<number | null> =>
    kind === "added" ? { before: null, after: minor } : { before: minor, after: null };
  const [total, deposit] = [change(totalMinor), change(depositMinor)];
  return { kind, name, nameBefore: null, total, deposit, lines: [] };
}

function changedOption(before: ComparedOption, after: ComparedOption): OptionChange | null {
  const lines = lineChanges(before, after);
  const same =
    before.name === after.name &&
    before.totalMinor === after.totalMinor &&
    before.depositMinor === after.depositMinor &&
    lines.length === 0;
  if (same) return null;
  return {
    kind: "changed",
    name: after.name,
    nameBefore: before.name === after.name ? null : before.name,
    total: { before: before.totalMinor, after: after.totalMinor },
    deposit: { before: before.depositMinor, after: after.depositMinor },
    lines,
  };
}

/** As the customer reads it: with its tax where prices include it. */
const shownMinor = (line: ComparedLine, { pricesIncludeTax }: ComparedOption): number =>
  pricesIncludeTax ? line.netMinor + line.taxMinor : line.netMinor;

function lineChanges(before: ComparedOption, after: ComparedOption): readonly LineChange[] {
  const left = [...before.lines];
  const changes: LineChange[] = [];
  for (const line of after.lines) {
    const place = left.findIndex((old) =>
      line.partId === null
        ? old.partId === null && old.label === line.label
        : old.partId === line.partId,
    );
    const [old] = place === -1 ? [] : left.splice(place, 1);
    const change = {
      label: line.label,
      beforeMinor: old ? shownMinor(old, before) : null,
      afterMinor: shownMinor(line, after),
      otherWords: old !== undefined && (old.detail !== line.detail || old.label !== line.label),
    };
    if (change.beforeMinor !== change.afterMinor || change.otherWords) changes.push(change);
  }
  const gone = left.map((old) => ({
    label: old.label,
    beforeMinor: shownMinor(old, before),
    afterMinor: null,
    otherWords: false,
  }));
  return [...changes, ...gone];
}

/**
 * Lines that one text has and the other has not, in reading order, by the longest common run of lines.
 *
 * @example textChanges("Cash.\nOn collection.", "On collection.") // [{ kind: "removed", text: "Cash." }]
 */
export function textChanges(before: string, after: string): readonly TextChange[] {
  const old = linesOf(before);
  const now = linesOf(after);
  const common = commonLengths(old, now);
  const changes: TextChange[] = [];
  let [at, to] = [0, 0];
  while (at < old.length || to < now.length) {
    const [removed, added] = [old[at], now[to]];
    if (removed !== undefined && removed === added) {
      at += 1;
      to += 1;
    } else if (
      added === undefined ||
      (removed !== undefined && lengthAt(common, at + 1, to) >= lengthAt(common, at, to + 1))
    ) {
      changes.push({ kind: "removed", text: removed ?? "" });
      at += 1;
    } else {
      changes.push({ kind: "added", text: added });
      to += 1;
    }
  }
  return changes;
}

const linesOf = (text: string): readonly string[] =>
  text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== "");

const lengthAt = (table: readonly (readonly number[])[], row: number, column: number): number =>
  table[row]?.[column] ?? 0;

/** Length of the longest common run of lines from each pair of places on. */
function commonLengths(old: readonly string[], now: readonly string[]): number[][] {
  const table = Array.from({ length: old.length + 1 }, () =>
    new Array<number>(now.length + 1).fill(0),
  );
  for (let row = old.length - 1; row >= 0; row -= 1) {
    for (let column = now.length - 1; column >= 0; column -= 1) {
      const own = table[row];
      if (!own) continue;
      own[column] =
        old[row] === now[column]
          ? lengthAt(table, row + 1, column + 1) + 1
          : Math.max(lengthAt(table, row + 1, column), lengthAt(table, row, column + 1));
    }
  }
  return table;
}
