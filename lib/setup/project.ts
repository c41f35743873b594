import { fileURLToPath } from "node:url";

/** Folder that the project stands in, without a trailing slash. */
export const PROJECT = fileURLToPath(new URL("../..", import.meta.url)).replace(/[/\\]$/, "");

/** Environment variables for a child process. */
export type Variables = Record<string, string | undefined>;
