/** Finding and checking TCP ports of this machine. */
import { createServer } from "node:net";

/** Listens for a moment; the port that was had, or undefined when somebody else holds it. */
async function tryPort(port: number, host: string): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "EADDRINUSE" || error.code === "EACCES") resolve(undefined);
      else reject(error);
    });
    server.listen({ port, host, exclusive: true }, () => {
      const address = server.address();
      server.close(() => {
        resolve(typeof address === "object" && address ? address.port : undefined);
      });
    });
  });
}

/** A port on loopback that nobody uses at this moment. */
export async function freeLoopbackPort(): Promise<number> {
  const port = await tryPort(0, "127.0.0.1");
  if (port === undefined) throw new Error("This machine has no free network port left.");
  return port;
}

/** True when a server could listen there now. */
export async function isPortFree(port: number, host: string): Promise<boolean> {
  return (await tryPort(port, host)) !== undefined;
}

/** How many ports above the usual one are tried before giving up. */
const TRIES = 50;

/**
 * The first free port from `usual` upwards.
 *
 * @throws Error when fifty in a row are taken
 * @example await firstFreePort(3000, "127.0.0.1") // 3000, or 3001 when 3000 is taken
 */
export async function firstFreePort(usual: number, host: string): Promise<number> {
  for (let port = usual; port < usual + TRIES; port += 1) {
    if (await isPortFree(port, host)) return port;
  }
  throw new Error(
    `Ports ${String(usual)} to ${String(usual + TRIES - 1)} are all taken on ${host}: name a free one with PORT.`,
  );
}
