/** The web server process: Next's own request handler on a server that stops in order. Settings come from main.ts. */
import { createServer } from "node:http";
import next from "next";
import { onLeash } from "./leash.mjs";

/** Open streams (live boards) are cut after this long when the server stops, ms. */
const DRAIN_MS = 1000;

const hostname = process.env["HOST"];
const port = Number(process.env["PORT"]);

const app = next({ dev: false, dir: process.cwd(), hostname, port });
await quietly(() => app.prepare());
const handle = app.getRequestHandler();
const server = createServer((request, response) => {
  void handle(request, response);
});

onLeash(async () => {
  const closed = new Promise((resolve) => server.close(resolve));
  server.closeIdleConnections();
  setTimeout(() => server.closeAllConnections(), DRAIN_MS);
  await closed;
  await app.close();
});

server.once("error", (error) => {
  console.error(`The web server cannot listen on ${hostname}:${port}: ${error.message}`);
  process.exit(1);
});
server.listen(port, hostname, () => process.send?.({ ready: true }));

/**
 * Next reports how long it took to read its configuration; the person at the terminal waits for one line, the address.
 *
 * @param {() => Promise<void>} work
 */
async function quietly(work) {
  const { log } = console;
  console.log = () => undefined;
  await work();
  console.log = log;
}
