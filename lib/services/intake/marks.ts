/**
 * The mark of a job's next part: A to Z, then AA, AB and so on. Marks of removed parts are not used again while
 * a later one stands, since tags may still hang on things.
 *
 * @example nextMark(["A", "C"]) // "D"
 */
export function nextMark(marks: readonly string[]): string {
  const highest = Math.max(-1, ...marks.map(indexOfMark));
  return markOfIndex(highest + 1);
}

const LETTERS = 26;
const CODE_OF_A = 65;

function indexOfMark(mark: string): number {
  return Array.from(mark).reduce(
    (index, letter) => (index + 1) * LETTERS + letter.charCodeAt(0) - CODE_OF_A,
    -1,
  );
}

function markOfIndex(index: number): string {
  const letter = String.fromCharCode(CODE_OF_A + (index % LETTERS));
  return index < LETTERS ? letter : markOfIndex(Math.floor(index / LETTERS) - 1) + letter;
}
