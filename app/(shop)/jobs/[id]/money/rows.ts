/** Lines that may be added to a statement at once. */
export const EXTRA_ROWS = [0, 1, 2, 3] as const;
/** Lines of a statement that may be credited by amount; all that is left of a longer one can be credited whole. */
export const MOST_LINES = 100;
