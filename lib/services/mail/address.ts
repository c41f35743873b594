/** RFC 5321 lets an address be no longer (its path of 256 octets, less two brackets; from memory). */
const LONGEST = 254;
/** One address and nothing else: no list, no name, no comment, nothing that could end a line. */
const ONE_ADDRESS =
  /^[^\s@<>(),;:"\\[\]\p{Cc}]+@[^\s@<>(),;:"\\[\]\p{Cc}]+\.[^\s@<>(),;:"\\[\]\p{Cc}.]+$/u;

/**
 * An address that mail may be sent to as it stands; null where it is none.
 *
 * @example mailAddress(" ida@example.org ") // "ida@example.org"
 * @example mailAddress("ida@example.org\nBcc: all@example.org") // null
 */
export function mailAddress(text: string): string | null {
  const address = text.trim();
  return address.length <= LONGEST && ONE_ADDRESS.test(address) ? address : null;
}

/**
 * Text for a line of a mail's head: line ends and other control characters become spaces, so that no name can start
 * another line.
 *
 * @example oneLine("Ida\r\nBcc: all@example.org") // "Ida Bcc: all@example.org"
 */
export function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, " ").trim();
}
