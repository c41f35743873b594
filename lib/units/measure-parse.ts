/** Measures as people type them: in either system, with fractions, feet and inches, pounds and ounces. */
import { THICKEST_GAUGE, THINNEST_GAUGE } from "./wire";
import { enteredUnit, kindFacts, type MeasureKind, type UnitSystem } from "./measure-kinds";
import type { MeasureUnit } from "./measure-units";
import { isAmbiguousNumber, plainNumber, TYPE_WITHOUT_COMMA } from "./number";

const FRACTIONS: Readonly<Record<string, string>> = {
  ...{ "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5" },
  ...{ "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8" },
  ...{ "⅞": "7/8" },
};

/** "1 1/2", "1-1/2", "3/4", "1 234,5", ".5", "1e-7". Whether it is a number at all is said later. */
const NUMBER = String.raw`\d+(?:\s+|-)\d+/\d+|\d+/\d+|(?:\d{1,3}(?:\s\d{3})+(?!\d)[.,\d]*|[.,\d]*\d[.,\d]*)(?:e[+-]?\d+)?`;
const BROKEN = /^(?:(\d+)(?:\s+|-))?(\d+)\/(\d+)$/;

type Piece = { readonly value: number; readonly unit: MeasureUnit | null };

/**
 * What was typed, in the kind's stored unit.
 *
 * A bare number is in the system's own unit; with a unit beside it, it may be of either system. Several units
 * may follow each other from large to small. Decimals take a point or a comma.
 *
 * @returns the stored value, or in words what was typed and what was expected
 * @example parseMeasure("length", "2 ft 3 in", "METRIC") // 685.8
 * @example parseMeasure("length", "1 1/2", "US") // 38.1
 * @example parseMeasure("section", "1/0 AWG", "METRIC") // 53.48
 */
export function parseMeasure(
  kind: MeasureKind,
  typed: string,
  system: UnitSystem,
): number | string {
  const { minus, rest } = signOf(plainText(kind, typed));
  const pieces = piecesOf(kind, rest);
  if (typeof pieces === "string") return pieces;
  const [only, ...more] = pieces;
  if (only && more.length === 0) {
    return inStored(only.unit ?? enteredUnit(kind, system), minus ? -only.value : only.value);
  }
  const canBeAdded = only !== undefined && !minus && descend(pieces);
  return canBeAdded ? added(pieces) : notUnderstood(kind, typed, system);
}

function signOf(text: string): { readonly minus: boolean; readonly rest: string } {
  return { minus: text.startsWith("-"), rest: text.replace(/^[+-]\s*/, "") };
}

/** One value in the stored unit; floating-point dust is swept off, so that 1.5 in is 38.1 mm. */
function inStored(unit: MeasureUnit, value: number): number | string {
  if (unit.sign === "AWG") {
    const known = Number.isInteger(value) && value >= THICKEST_GAUGE && value <= THINNEST_GAUGE;
    if (!known) return "Wire gauges are 4/0, 3/0, 2/0, 1/0 and the whole numbers from 1 to 40 AWG.";
  }
  return swept(unit.toSi(value));
}

const swept = (value: number): number => Number(value.toPrecision(14));

const added = (pieces: readonly Piece[]): number =>
  swept(pieces.reduce((sum, { value, unit }) => sum + (unit?.toSi(value) ?? 0), 0));

/** Each piece has a unit, smaller than the one before; only units that start at zero can be added. */
function descend(pieces: readonly Piece[]): boolean {
  return pieces.every(({ unit }, index) => {
    const before = pieces[index - 1]?.unit;
    if (!unit || unit.sign === "AWG" || unit.toSi(0) !== 0) return false;
    return !before || unit.toSi(1) < before.toSi(1);
  });
}

/** The numbers and units of a text; none where it is anything else; words where a number may mean two things. */
function piecesOf(kind: MeasureKind, text: string): readonly Piece[] | string {
  const units = unitNames(kind);
  const names = [...units.keys()].sort((a, b) => b.length - a.length).map(escaped);
  const one = new RegExp(`^(${NUMBER})\\s*(${names.join("|")})?(?=$|[\\s\\d,-])[\\s,-]*`);
  const pieces: Piece[] = [];
  let rest = text;
  while (rest !== "") {
    const found = one.exec(rest);
    if (!found) return [];
    const [all, number = "", name] = found;
    if (isAmbiguousNumber(number)) return TYPE_WITHOUT_COMMA;
    const value = numberOf(number);
    if (!Number.isFinite(value)) return [];
    pieces.push({ value, unit: name === undefined ? null : (units.get(name) ?? null) });
    rest = rest.slice(all.length);
  }
  return pieces;
}

/** A fraction, a mixed one, or a plain number; NaN otherwise. */
function numberOf(text: string): number {
  const broken = BROKEN.exec(text);
  if (!broken) return plainNumber(text);
  const [, whole, above = "", below = ""] = broken;
  const share = Number(above) / Number(below);
  if (whole === undefined) return share;
  return share < 1 ? Number(whole) + share : Number.NaN;
}

function unitNames(kind: MeasureKind): ReadonlyMap<string, MeasureUnit> {
  return new Map(
    kindFacts(kind).units.flatMap((unit) =>
      [unit.sign.toLowerCase(), ...unit.words].map((name) => [name, unit] as const),
    ),
  );
}

const escaped = (name: string): string => name.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");

/** Small letters, plain spaces, and one way to write fractions, primes and minus. */
function plainText(kind: MeasureKind, typed: string): string {
  const text = typed
    .replace(/(\d?)([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])/g, (_, digit: string, sign: string) =>
      digit === "" ? (FRACTIONS[sign] ?? "") : `${digit} ${FRACTIONS[sign] ?? ""}`,
    )
    .replace(/[⁄∕]/g, "/")
    .replace(/''|[″”“]/g, '"')
    .replace(/[′’‘]/g, "'")
    .replace(/[−–]/g, "-")
    .replace(/\s+/g, " ")
    .trim()
    .toLowerCase();
  return kind === "section" ? gauges(text) : text;
}

/** "AWG 10" and "#10" as "10 awg"; "2/0" as −1, which is how gauges above 0 are counted. */
function gauges(text: string): string {
  const turned = text.replace(/^(?:awg|#)\s*(\d+(?:\/0)?)(?:\s*awg)?$/, "$1 awg");
  return turned.replace(/^([1-4])\/0(?=\s|$|awg)/, (_, noughts: string) =>
    String(1 - Number(noughts)),
  );
}

function notUnderstood(kind: MeasureKind, typed: string, system: UnitSystem): string {
  const { noun } = kindFacts(kind);
  const { entered, examples } = kindFacts(kind)[system];
  return `“${typed.trim().slice(0, 40)}” is not ${noun}. Write a number (taken as ${entered}) or say its unit: ${examples}.`;
}
