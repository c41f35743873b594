/** One page of a list. */
export type Paged<Row> = {
  readonly rows: readonly Row[];
  readonly page: number;
  readonly pages: number;
  readonly total: number;
};

export const ROWS_A_PAGE = 25;

/**
 * Loads one page of a list; a page that does not exist is the nearest that does.
 *
 * @param page 1 or more; anything else counts as 1
 */
export async function pageOf<Row>(
  page: number,
  load: (skip: number, take: number) => Promise<{ rows: readonly Row[]; total: number }>,
): Promise<Paged<Row>> {
  const wanted = Number.isInteger(page) && page > 0 ? page : 1;
  const first = await load((wanted - 1) * ROWS_A_PAGE, ROWS_A_PAGE);
  const pages = Math.max(1, Math.ceil(first.total / ROWS_A_PAGE));
  if (wanted <= pages) return { ...first, page: wanted, pages };
  return { ...(await load((pages - 1) * ROWS_A_PAGE, ROWS_A_PAGE)), page: pages, pages };
}

/** Longest search that anybody types. */
const LONGEST_SEARCH = 200;

/** What to look for, from an address that anybody may write: PostgreSQL takes no NUL character. */
export const searchTerm = (typed: string): string =>
  typed.replaceAll("\0", "").trim().slice(0, LONGEST_SEARCH);
