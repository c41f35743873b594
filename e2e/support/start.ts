/** A shop for a journey: the real service, empty, on data of its own. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { runStart } from "../../test/support/start";

export type StartedShop = {
  readonly address: string;
  /** What the terminal shows to whoever opens the shop. */
  readonly setupCode: string;
  readonly stop: () => Promise<void>;
};

/**
 * Starts an empty shop.
 *
 * @param port free port on loopback
 * @throws Error with the terminal's lines when it does not open
 */
export async function startShop(port: number): Promise<StartedShop> {
  const dataFolder = mkdtempSync(join(tmpdir(), "ironbath-journey-"));
  const started = runStart({ DATA_DIR: dataFolder, PORT: String(port) });
  const stop = async (): Promise<void> => {
    await started.end("SIGTERM");
    rmSync(dataFolder, { recursive: true, force: true });
  };
  try {
    const [, setupCode = "", address = ""] = await started.until(
      /first visit: (\S+)[^]*open at (\S+)/,
    );
    return { address, setupCode, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}
