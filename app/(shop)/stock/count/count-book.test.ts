import { describe, expect, it } from "vitest";
import {
  answered,
  cleared,
  type CountBook,
  type CountEntry,
  queued,
  readBook,
  rowKey,
  typedIn,
  waitingRows,
  writeBook,
} from "./count-book";

const SODA = { itemId: "soda", lotId: null };
const EPOXY = { itemId: "epoxy", lotId: "lot-2" };

function storage() {
  const kept = new Map<string, string>();
  return {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
    removeItem: (key: string) => void kept.delete(key),
    kept,
  };
}

const entry = (book: CountBook, row: typeof SODA | typeof EPOXY): CountEntry => {
  const found = book[rowKey(row)];
  if (!found) throw new Error("not in the book");
  return found;
};

describe("a count on the phone", () => {
  it("keeps what is typed until the shop has it, for each person apart", () => {
    const phone = storage();
    const book = typedIn({}, SODA, { typed: "12" }, "k1");
    writeBook(phone, "ada", book);
    expect(readBook(phone, "ada")).toEqual(book);
    expect(readBook(phone, "bo")).toEqual({});
    writeBook(phone, "ada", {});
    expect(phone.kept.size).toBe(0);
    phone.setItem("ironbath.count.ada", "nonsense");
    expect(readBook(phone, "ada")).toEqual({});
    phone.setItem("ironbath.count.ada", '{"x":1}');
    expect(readBook(phone, "ada")).toEqual({});
  });

  it("sends in the order counted, keeps what had no answer, and takes each answer to its own row", () => {
    let book = typedIn(typedIn({}, EPOXY, { typed: "3" }, "k1"), SODA, { typed: "12" }, "k2");
    expect(waitingRows(book)).toEqual([]);
    book = queued(queued(book, rowKey(SODA), 12, 1000), rowKey(EPOXY), 3, 2000);
    expect(waitingRows(book)).toEqual([rowKey(SODA), rowKey(EPOXY)]);

    expect(answered(book, rowKey(SODA), entry(book, SODA), null)).toBe(book);
    const saved = { kind: "saved", difference: -2, costMinor: -40 } as const;
    book = answered(book, rowKey(SODA), entry(book, SODA), saved);
    expect(entry(book, SODA)).toMatchObject({ state: "saved", difference: -2, costMinor: -40 });
    const refused = { kind: "refused", message: "no" } as const;
    book = answered(book, rowKey(EPOXY), entry(book, EPOXY), refused);
    expect(entry(book, EPOXY)).toMatchObject({ state: "refused", message: "no" });
    expect(Object.keys(cleared(book))).toEqual([rowKey(EPOXY)]);
  });

  it("begins a new count where a number is typed over, and the old one's answer is not taken for it", () => {
    const first = queued(typedIn({}, SODA, { typed: "12" }, "k1"), rowKey(SODA), 12, 1000);
    const over = typedIn(first, SODA, { typed: "13" }, "k2");
    expect(entry(over, SODA)).toMatchObject({
      state: "typed",
      idempotencyKey: "k2",
      counted: null,
    });
    const answer = { kind: "saved", difference: 0, costMinor: 0 } as const;
    expect(answered(over, rowKey(SODA), entry(first, SODA), answer)).toBe(over);
  });

  it("drops a row that was emptied again", () => {
    expect(typedIn(typedIn({}, SODA, { typed: "1" }, "k"), SODA, { typed: "" }, "k")).toEqual({});
  });
});
