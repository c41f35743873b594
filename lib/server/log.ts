import { pino } from "pino";

/** Faults and what an operator wants to know, as JSON lines on standard output. Never passwords or tokens. */
export const log = pino({ level: "info", base: null, timestamp: pino.stdTimeFunctions.isoTime });
