/** Begins a thread: TypeScript is read by the same loader as in the worker process, also beside the built pages. */
import { register } from "tsx/esm/api";

register();
await import("./thread-work.ts");
