"use client";

import { createContext, type ReactNode, useContext } from "react";
import { said, type UnitSystem } from "@/lib/units";

const UnitsContext = createContext<UnitSystem>("METRIC");

type UnitsProps = { readonly system: UnitSystem; readonly children: ReactNode };

/** Says once, around all screens, which units the shop reads and types. */
export function Units({ system, children }: UnitsProps) {
  return <UnitsContext value={system}>{children}</UnitsContext>;
}

/** The units of the shop. */
export const useUnits = (): UnitSystem => useContext(UnitsContext);

/** A sentence with its measures, which stand in braces, in the units of the shop (see `said`). */
export const Said = ({ children }: { readonly children: string }): string =>
  said(children, useUnits());
