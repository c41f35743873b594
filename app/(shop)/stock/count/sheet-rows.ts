import type { CountRow } from "@/lib/services";

/** A row with what tells its lot from others of the same item. */
export type SheetRow = Omit<CountRow, "lot"> & { readonly lotWords: string };
export type SheetPlace = { readonly place: string; readonly rows: readonly SheetRow[] };
