import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ComparedVersion, differenceOf, textChanges } from "./difference";

const day = (text: string) => new Date(`${text}T00:00:00Z`);

type Option = ComparedVersion["options"][number];
const line = (partId: string | null, label: string, netMinor: number) => ({
  partId,
  label,
  detail: "Rust off.",
  netMinor,
  taxMinor: netMinor / 5,
});
const option = (changes: Partial<Option> = {}): Option => ({
  name: "As planned",
  goal: null,
  rush: false,
  totalMinor: 12_000,
  depositMinor: 0,
  pricesIncludeTax: false,
  lines: [line("a", "A: hinge", 10_000)],
  ...changes,
});
const version = (changes: Partial<ComparedVersion> = {}): ComparedVersion => ({
  version: 1,
  validUntil: day("2030-02-06"),
  terms: "Payment on collection.\nCleaned, not certified.",
  messageToCustomer: "",
  depositPercent: 0,
  options: [option()],
  ...changes,
});

describe("differenceOf", () => {
  it("finds nothing between a version and itself", () => {
    expect(differenceOf(version(), version({ version: 2 }))).toMatchObject({
      from: 1,
      to: 2,
      isEmpty: true,
      options: [],
    });
  });

  it("tells options added and removed, with their totals", () => {
    const strip = option({ name: "Strip and protect", goal: "STRIP_TO_METAL", totalMinor: 20_000 });
    const rush = option({ name: "Rush", rush: true, totalMinor: 15_000 });
    const { options } = differenceOf(
      version({ options: [option(), strip] }),
      version({ options: [rush, option()] }),
    );
    expect(options.map(({ kind, name, total }) => [kind, name, total.before, total.after])).toEqual(
      [
        ["added", "Rush", null, 15_000],
        ["removed", "Strip and protect", 20_000, null],
      ],
    );
  });

  it("knows an option again by what is done when it is called otherwise", () => {
    const { options } = differenceOf(
      version({ options: [option()] }),
      version({ options: [option({ name: "The usual" })] }),
    );
    expect(options).toEqual([
      expect.objectContaining({ kind: "changed", name: "The usual", nameBefore: "As planned" }),
    ]);
  });

  it("tells lines added, removed and changed by part, not by words", () => {
    const before = option({
      lines: [line("a", "A: hinge", 10_000), line(null, "Minimum charge", 500)],
    });
    const after = option({
      totalMinor: 17_400,
      lines: [line("a", "A: gate hinge", 10_000), line("b", "B: strap", 4500)],
    });
    const [change] = differenceOf(
      version({ options: [before] }),
      version({ options: [after] }),
    ).options;
    expect(change?.total).toEqual({ before: 12_000, after: 17_400 });
    expect(change?.lines).toEqual([
      { label: "A: gate hinge", beforeMinor: 10_000, afterMinor: 10_000, otherWords: true },
      { label: "B: strap", beforeMinor: null, afterMinor: 4500, otherWords: false },
      { label: "Minimum charge", beforeMinor: 500, afterMinor: null, otherWords: false },
    ]);
  });

  it("compares what the customer reads: with tax where prices include it", () => {
    const [change] = differenceOf(
      version(),
      version({ options: [option({ pricesIncludeTax: true })] }),
    ).options;
    expect(change?.lines[0]).toMatchObject({ beforeMinor: 10_000, afterMinor: 12_000 });
  });

  it("tells validity, deposit, terms and message", () => {
    const changed = version({
      validUntil: day("2030-03-01"),
      depositPercent: 30,
      terms: "Payment within 14 days.\nCleaned, not certified.",
      messageToCustomer: "The strap has a crack.",
    });
    expect(differenceOf(version(), changed)).toMatchObject({
      isEmpty: false,
      options: [],
      validUntil: { before: day("2030-02-06"), after: day("2030-03-01") },
      depositPercent: { before: 0, after: 30 },
      terms: [
        { kind: "removed", text: "Payment on collection." },
        { kind: "added", text: "Payment within 14 days." },
      ],
      message: [{ kind: "added", text: "The strap has a crack." }],
    });
  });
});

describe("textChanges", () => {
  const lines = fc.array(fc.constantFrom("one", "two", "three"), { maxLength: 8 });

  it("gives the second text when its changes are made to the first", () => {
    fc.assert(
      fc.property(lines, lines, (before, after) => {
        const changes = textChanges(before.join("\n"), after.join("\n"));
        const count = (kind: string, text: string) =>
          changes.filter((change) => change.kind === kind && change.text === text).length;
        for (const text of ["one", "two", "three"]) {
          const had = before.filter((found) => found === text).length;
          const has = after.filter((found) => found === text).length;
          expect(had - count("removed", text) + count("added", text)).toBe(has);
        }
      }),
    );
  });

  it("has no change for equal texts, and as few as their lengths differ where one holds the other", () => {
    fc.assert(
      fc.property(lines, fc.nat(8), (all, dropped) => {
        expect(textChanges(all.join("\n"), all.join("\r\n"))).toEqual([]);
        const part = all.filter((_, index) => index !== dropped);
        expect(textChanges(all.join("\n"), part.join("\n"))).toHaveLength(all.length - part.length);
      }),
    );
  });
});
