import { back } from "./plants-cycle";

export const there = (): string => back();
