/**
 * Changes as the database announces them at commit (channel `shop_changes`, see the migration `guards`).
 * One LISTEN connection a process, held only while somebody listens, shared by all of them.
 */
import { Client } from "pg";

/** Something changed in a table, or, after a gap in listening, anything may have. */
export type ShopChange =
  | { readonly kind: "change"; readonly table: string; readonly id: string }
  | { readonly kind: "resync" };

type Listener = (change: ShopChange) => void;

const CHANNEL = "shop_changes";
const FIRST_RETRY_MS = 500;
const LONGEST_RETRY_MS = 30_000;

class ChangeFeed {
  readonly #listeners = new Set<Listener>();
  #client: Client | undefined;
  #retry: NodeJS.Timeout | undefined;
  #retryMs = FIRST_RETRY_MS;

  /** @returns ends the listening; the last one to leave closes the connection */
  listen(listener: Listener): () => void {
    this.#listeners.add(listener);
    if (this.#listeners.size === 1) this.#connect();
    return () => {
      if (this.#listeners.delete(listener) && this.#listeners.size === 0) this.#close();
    };
  }

  #connect(): void {
    const client = new Client({ connectionString: process.env["DATABASE_URL"], keepAlive: true });
    this.#client = client;
    client.on("notification", ({ payload }) => {
      const [table, id] = (payload ?? "").split(":");
      if (table && id) this.#tell({ kind: "change", table, id });
    });
    const lost = (): void => {
      this.#lost(client);
    };
    client.on("error", lost);
    client.on("end", lost);
    client
      .connect()
      .then(() => client.query(`LISTEN ${CHANNEL}`))
      .then(() => {
        if (this.#client !== client) return;
        this.#retryMs = FIRST_RETRY_MS;
        // What happened before we listened, or while we did not, was announced to nobody.
        this.#tell({ kind: "resync" });
      })
      .catch(lost);
  }

  /** Tries again, waiting twice as long each time, as long as somebody listens. */
  #lost(client: Client): void {
    if (this.#client !== client) return;
    this.#client = undefined;
    endQuietly(client);
    if (this.#listeners.size === 0) return;
    this.#retry = setTimeout(() => {
      this.#connect();
    }, this.#retryMs);
    this.#retry.unref();
    this.#retryMs = Math.min(2 * this.#retryMs, LONGEST_RETRY_MS);
  }

  #close(): void {
    clearTimeout(this.#retry);
    const client = this.#client;
    this.#client = undefined;
    if (client) endQuietly(client);
  }

  #tell(change: ShopChange): void {
    for (const listener of this.#listeners) listener(change);
  }
}

/** A connection that broke cannot be ended properly, and need not be. */
function endQuietly(client: Client): void {
  client.end().catch(() => undefined);
}

// Kept on globalThis so that the development server's reloads do not open a second connection.
const kept = globalThis as typeof globalThis & { ironbathChanges?: ChangeFeed };

/**
 * Calls `listener` for each change, and with "resync" when listening begins (again): what was read before may be old.
 *
 * @returns ends the listening
 * @example const stop = onShopChange((change) => send(change));
 */
export function onShopChange(listener: Listener): () => void {
  kept.ironbathChanges ??= new ChangeFeed();
  return kept.ironbathChanges.listen(listener);
}
