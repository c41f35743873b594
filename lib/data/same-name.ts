/** A name whatever its case. Without regard to case is ILIKE, to which three characters mean something. */
export const sameName = (name: string) =>
  ({ equals: name.replace(/[\\%_]/g, "\\$&"), mode: "insensitive" }) as const;
