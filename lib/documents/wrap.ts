/** Characters that print nothing and would only upset the layout; line ends and tabs are handled apart. */
const UNPRINTABLE = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200b\u200e\u200f\ufeff]/gu;

/**
 * Text as it may be printed: line ends as \n, tabs as a space, control characters gone, and the wide yen sign of
 * Japanese amounts, which the fonts lack, as the usual one.
 */
export function printable(text: string): string {
  return text
    .replace(/\r\n?/g, "\n")
    .replace(/\t/g, " ")
    .replace(UNPRINTABLE, "")
    .replaceAll("￥", "¥")
    .trimEnd();
}

/**
 * Breaks text into lines no wider than `width`: at spaces, and inside a word only where the word alone is too wide.
 *
 * @param measure width of a piece of text, in the unit of `width`
 * @example wrap("rust off, oiled", 9, (text) => text.length) // ["rust off,", "oiled"]
 */
export function wrap(text: string, width: number, measure: (text: string) => number): string[] {
  return printable(text)
    .split("\n")
    .flatMap((paragraph) => wrapParagraph(paragraph, width, measure));
}

function wrapParagraph(text: string, width: number, measure: (text: string) => number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (measure(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = chop(word, width, measure);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? "";
  }
  return [...lines, line];
}

/** Cuts a word that is wider than a line into pieces that fit; never less than one character a piece. */
function chop(word: string, width: number, measure: (text: string) => number): string[] {
  const pieces: string[] = [];
  let piece = "";
  for (const character of word) {
    if (piece !== "" && measure(piece + character) > width) {
      pieces.push(piece);
      piece = "";
    }
    piece += character;
  }
  return [...pieces, piece];
}

/** The first lines of a text, the last of them ending in "…" where something was left out. */
export function firstLines(
  text: string,
  most: number,
  width: number,
  measure: (text: string) => number,
): string[] {
  const lines = wrap(text, width, measure);
  if (lines.length <= most) return lines;
  const kept = lines.slice(0, most);
  let last = kept[most - 1] ?? "";
  while (last !== "" && measure(`${last}…`) > width) last = last.slice(0, -1);
  return [...kept.slice(0, -1), `${last.trimEnd()}…`];
}
