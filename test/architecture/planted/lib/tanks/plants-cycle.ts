import { there } from "./there";

export const back = (): string => there();
