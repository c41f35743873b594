const PAGE = 65_536;
/** Arrays begin at a multiple of this, bytes. */
const LINE = 64;

/**
 * Memories that were given back. Making one is slow, and browsers hand out only so many before they clear away those
 * that nobody holds any more; a bath that is solved anew at each move of a part would run through them.
 */
const spare: WebAssembly.Memory[] = [];
const MOST_SPARE = 2;

/** Gives arrays their places in a memory, one after the other. */
export class Ground {
  // The first page is the compiler's.
  private end = PAGE;

  /** @returns the place in bytes */
  claim(bytes: number): number {
    const at = this.end;
    this.end += LINE * Math.ceil(bytes / LINE);
    return at;
  }

  /** The memory, once everything has its place: zero throughout. */
  lay(): WebAssembly.Memory {
    // The passes look a little past an array's end.
    const bytes = this.end + LINE;
    const fitting = spare.findIndex(({ buffer }) => {
      return buffer.byteLength >= bytes && buffer.byteLength <= 2 * bytes;
    });
    const [found] = fitting < 0 ? [] : spare.splice(fitting, 1);
    if (found) {
      new Uint8Array(found.buffer).fill(0, PAGE);
      return found;
    }
    const pages = Math.ceil(bytes / PAGE);
    return new WebAssembly.Memory({ initial: pages, maximum: pages });
  }
}

/** Keeps a memory for the next one who needs its like; nobody may use it any more. */
export function giveBack(memory: WebAssembly.Memory): void {
  if (spare.length >= MOST_SPARE) spare.shift();
  spare.push(memory);
}
