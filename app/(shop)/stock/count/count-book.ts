/**
 * What a phone holds of a count: typed numbers that are not saved yet, those on their way, and what the shop answered.
 * It stays in the browser's storage until the person clears it, so that a lost connection, or a page that is closed,
 * loses nothing.
 */

/** One thing that is being counted. */
export type CountEntry = {
  readonly itemId: string;
  readonly lotId: string | null;
  readonly typed: string;
  readonly inPacks: boolean;
  readonly note: string;
  /** in the item's unit; null while it is only typed */
  readonly counted: number | null;
  /** when it was saved on this phone, by its own clock, ms */
  readonly countedAtMs: number;
  /** under which the shop knows a repeat */
  readonly idempotencyKey: string;
  readonly state: "typed" | "waiting" | "refused" | "saved";
  /** why it was refused */
  readonly message: string;
  /** counted less expected, once the shop has said so */
  readonly difference: number;
  /** what that is worth; null for people who may not see money */
  readonly costMinor: number | null;
};

/** Entries by row: see `rowKey`. */
export type CountBook = Readonly<Record<string, CountEntry>>;

/** What the shop answered; null where there was no answer. */
export type CountAnswer =
  | { readonly kind: "saved"; readonly difference: number; readonly costMinor: number | null }
  | { readonly kind: "refused"; readonly message: string }
  | null;

type Storage = Pick<globalThis.Storage, "getItem" | "setItem" | "removeItem">;

const place = (personId: string): string => `ironbath.count.${personId}`;

export const rowKey = (row: { readonly itemId: string; readonly lotId: string | null }): string =>
  `${row.itemId} ${row.lotId ?? ""}`;

/** What is kept of this person's count; nothing where the storage holds nonsense. */
export function readBook(storage: Storage, personId: string): CountBook {
  try {
    const kept: unknown = JSON.parse(storage.getItem(place(personId)) ?? "{}");
    if (typeof kept !== "object" || kept === null) return {};
    return Object.fromEntries(Object.entries(kept).filter(isEntry));
  } catch {
    return {};
  }
}

export function writeBook(storage: Storage, personId: string, book: CountBook): void {
  if (Object.keys(book).length === 0) storage.removeItem(place(personId));
  else storage.setItem(place(personId), JSON.stringify(book));
}

/** A row typed in; typing over a saved number begins a new count under a new key. */
export function typedIn(
  book: CountBook,
  row: { readonly itemId: string; readonly lotId: string | null },
  change: Partial<Pick<CountEntry, "typed" | "inPacks" | "note">>,
  newKey: string,
): CountBook {
  const key = rowKey(row);
  const before = book[key];
  const entry: CountEntry = {
    itemId: row.itemId,
    lotId: row.lotId,
    typed: before?.typed ?? "",
    inPacks: before?.inPacks ?? false,
    note: before?.note ?? "",
    ...change,
    counted: null,
    countedAtMs: 0,
    idempotencyKey: newKey,
    state: "typed",
    message: "",
    difference: 0,
    costMinor: null,
  };
  if (entry.typed === "" && entry.note === "" && !entry.inPacks) {
    const { [key]: _dropped, ...others } = book;
    return others;
  }
  return { ...book, [key]: entry };
}

/** The row is done: its number goes to the shop, now or when there is signal. */
export function queued(book: CountBook, key: string, counted: number, nowMs: number): CountBook {
  const entry = book[key];
  if (!entry) return book;
  return {
    ...book,
    [key]: { ...entry, counted, countedAtMs: nowMs, state: "waiting", message: "" },
  };
}

/** The rows that wait to be sent, in the order in which they were counted. */
export function waitingRows(book: CountBook): readonly string[] {
  return Object.entries(book)
    .filter(([, { state }]) => state === "waiting")
    .sort(([, a], [, b]) => a.countedAtMs - b.countedAtMs)
    .map(([key]) => key);
}

/** An answer put to its row; one that was typed over meanwhile is another count, and keeps waiting for its own. */
export function answered(
  book: CountBook,
  key: string,
  sent: CountEntry,
  answer: CountAnswer,
): CountBook {
  const entry = book[key];
  if (!answer || entry?.idempotencyKey !== sent.idempotencyKey) return book;
  if (answer.kind === "refused") {
    return { ...book, [key]: { ...entry, state: "refused", message: answer.message } };
  }
  const { difference, costMinor } = answer;
  return { ...book, [key]: { ...entry, state: "saved", difference, costMinor } };
}

/** Without what the shop has: a new walk along the shelves begins. */
export function cleared(book: CountBook): CountBook {
  return Object.fromEntries(Object.entries(book).filter(([, { state }]) => state !== "saved"));
}

const isEntry = (pair: [string, unknown]): pair is [string, CountEntry] => {
  const [, value] = pair;
  return (
    typeof value === "object" && value !== null && "idempotencyKey" in value && "typed" in value
  );
};
