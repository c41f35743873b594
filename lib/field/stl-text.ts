import type { Soup } from "./stl-binary";

/** Words longer than this are no numbers and no keywords. */
const LONGEST_WORD = 64;
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
/** About what single precision holds: the numbers of a text file are those of a binary one. */
const LARGEST = 1e38;
const NEW_LINE = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;

/** Whether the first word is "solid", in any case, after a byte-order mark and white space at most. */
export function looksLikeText(bytes: Uint8Array): boolean {
  const words = new Words(bytes);
  return words.next() === "solid";
}

/**
 * Reads ASCII STL: solid … facet normal … outer loop, vertex three times, endloop, endfacet … endsolid. Any case,
 * any white space, any bytes in the name; several solids count as one.
 *
 * One pass over the bytes; only words are ever turned into text.
 */
export function readText(bytes: Uint8Array, mostTriangles: number): Soup {
  const words = new Words(bytes);
  const corners: number[] = [];
  let inSolid = false;
  for (let word = words.next(); word !== null; word = words.next()) {
    if (!inSolid && word !== "solid") return refuse(`${shown(word)} stands outside a solid`);
    if (word === "solid" || word === "endsolid") {
      inSolid = word === "solid";
      words.skipLine();
    } else if (word === "facet") {
      const why = readFacet(words, corners);
      if (why) return refuse(`triangle ${Math.floor(corners.length / 9) + 1}: ${why}`);
      if (corners.length > 9 * mostTriangles) {
        return refuse(`it has more than ${mostTriangles} triangles, which is the most`);
      }
    } else return refuse(`${shown(word)} stands where a facet was expected`);
  }
  if (inSolid) return refuse("it breaks off: there is no endsolid");
  if (corners.length === 0) return refuse("it holds no triangles");
  return { ok: true, corners: Float64Array.from(corners) };
}

const refuse = (why: string): Soup => ({ ok: false, why });
const shown = (word: string): string => `“${word.replace(/[^!-~]/g, "?").slice(0, 20)}”`;

/** From after "facet" to "endfacet". The normal is read over: the corners' order tells. */
function readFacet(words: Words, corners: number[]): string | null {
  const before = words.expect("normal") ?? words.expectNumbers(3, null);
  const loop = before ?? words.expect("outer") ?? words.expect("loop");
  if (loop) return loop;
  for (let corner = 0; corner < 3; corner++) {
    const why = words.expect("vertex") ?? words.expectNumbers(3, corners);
    if (why) return why;
  }
  return words.expect("endloop") ?? words.expect("endfacet");
}

/** The words of a file one after the other, in lower case. */
class Words {
  private at: number;

  constructor(private readonly bytes: Uint8Array) {
    const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
    this.at = marked ? 3 : 0;
  }

  /** Null at the end. */
  next(): string | null {
    const { bytes } = this;
    while (this.at < bytes.length && bytes[this.at]! <= SPACE) this.at++;
    if (this.at === bytes.length) return null;
    let word = "";
    for (; this.at < bytes.length && bytes[this.at]! > SPACE; this.at++) {
      if (word.length < LONGEST_WORD) word += String.fromCharCode(bytes[this.at]!);
    }
    return word.toLowerCase();
  }

  /** The rest of the line is a name, and may be anything. */
  skipLine(): void {
    const { bytes } = this;
    while (
      this.at < bytes.length &&
      bytes[this.at] !== NEW_LINE &&
      bytes[this.at] !== CARRIAGE_RETURN
    ) {
      this.at++;
    }
  }

  /** What is wrong, or null. */
  expect(wanted: string): string | null {
    const word = this.next();
    if (word === wanted) return null;
    return word === null
      ? `the file breaks off before “${wanted}”`
      : `${shown(word)} stands where “${wanted}” was expected`;
  }

  /** Reads numbers into a list, or only over them; a normal may be no number at all. */
  expectNumbers(count: number, into: number[] | null): string | null {
    for (let read = 0; read < count; read++) {
      const word = this.next();
      if (word === null) return "the file breaks off within its numbers";
      if (!into) continue;
      const value = NUMBER.test(word) ? Number(word) : NaN;
      if (!(Math.abs(value) < LARGEST)) return `${shown(word)} is no number that can be read`;
      into.push(value);
    }
    return null;
  }
}
