/** Secrets of this installation: made on first start, kept for its owner only, never defaulted. */
import { randomBytes } from "node:crypto";
import { existsSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { z } from "zod";

const Secrets = z.object({
  /** Signs the session cookie. */
  session: z.string().min(32),
});

export type Secrets = z.infer<typeof Secrets>;

/**
 * The secrets beside the data, made when there are none yet.
 *
 * @throws Error when the file is there but not whole: making new ones unasked would sign everybody out
 */
export function keptSecrets(dataFolder: string): Secrets {
  const file = join(dataFolder, "secrets.json");
  if (!existsSync(file)) {
    const made: Secrets = {
      session: randomBytes(48).toString("base64url"),
    };
    writePrivately(file, JSON.stringify(made, null, 2));
    return made;
  }
  const read = Secrets.safeParse(parsed(readFileSync(file, "utf8")));
  if (read.success) return read.data;
  throw new Error(
    `${file} is damaged: restore it, or delete it (everybody will have to sign in again).`,
  );
}

/** The text of a file that only its owner may read, made with random text when it is missing. */
export function keptPassword(file: string): string {
  if (!existsSync(file)) writePrivately(file, randomBytes(24).toString("base64url"));
  return readFileSync(file, "utf8").trim();
}

/** Written beside and renamed, so that a kill leaves the whole file or none. */
function writePrivately(file: string, text: string): void {
  const draft = `${file}.${String(process.pid)}`;
  writeFileSync(draft, `${text}\n`, { mode: 0o600 });
  renameSync(draft, file);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
