/**
 * Prisma's own schema engine, compiled to WebAssembly: the same migrations and the same history table as the
 * native engine, without a download outside the package registry.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, dirname } from "node:path";
import { PrismaPg } from "@prisma/adapter-pg";
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from "@prisma/driver-adapter-utils";
import type { SchemaEngine } from "@prisma/schema-engine-wasm";
import { DatabaseError, Pool } from "pg";

type EngineClass = {
  new: (
    options: { datamodels: [string, string][] },
    log: (message: string) => void,
    adapter: object,
  ) => Promise<SchemaEngine>;
};

/** What the package's glue code exports; its own type declarations leave the two start-up functions out. */
type EngineModule = {
  readonly SchemaEngine: EngineClass;
  readonly __wbg_set_wasm: (exports: WebAssembly.Exports) => void;
};

const GLUE = "@prisma/schema-engine-wasm/schema_engine_bg";

let engineClass: Promise<EngineClass> | undefined;

async function loadEngine(): Promise<EngineClass> {
  const folder = dirname(createRequire(import.meta.url).resolve(GLUE));
  const glue = (await import(GLUE)) as unknown as EngineModule;
  const compiled = new WebAssembly.Module(readFileSync(join(folder, "schema_engine_bg.wasm")));
  const instance = new WebAssembly.Instance(compiled, {
    "./schema_engine_bg.js": withoutIdleTimers(glue),
  });
  glue.__wbg_set_wasm(instance.exports);
  (instance.exports["__wbindgen_start"] as () => void)();
  return glue.SchemaEngine;
}

/** The engine never cancels the timeout of its lock, which would keep this process alive for ten seconds more. */
function withoutIdleTimers(glue: EngineModule): WebAssembly.ModuleImports {
  const imports = { ...(glue as unknown as WebAssembly.ModuleImports) };
  for (const name of Object.keys(imports)) {
    if (name.startsWith("__wbg_setTimeout_")) {
      imports[name] = (callback: () => void, delayMs: number) =>
        setTimeout(callback, delayMs).unref();
    }
  }
  return imports;
}

/**
 * The driver adapter, with two gaps closed that only migrations meet.
 * - Scripts are sent whole. The packaged one cuts a script at every semicolon, which breaks function bodies; as one
 *   query, PostgreSQL parses it, and runs it in one transaction: a migration that fails leaves nothing behind.
 * - The engine reads catalogue columns of type "char", which the packaged one refuses.
 */
class MigrationAdapter extends PrismaPg {
  override async connect(): ReturnType<PrismaPg["connect"]> {
    const adapter = await super.connect();
    const query = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (asked) => {
      const answer = await query({ ...asked, sql: readCharactersAsText(asked.sql) });
      const columnTypes = answer.columnTypes.map((type, column) =>
        CHARACTER_COLUMNS.has(answer.columnNames[column] ?? "") ? ColumnTypeEnum.Character : type,
      );
      return { ...answer, columnTypes };
    };
    adapter.executeScript = async (script) => {
      try {
        await adapter.underlyingDriver().query(script);
      } catch (error) {
        throw withLine(error, script);
      }
    };
    return adapter;
  }
}

/** Columns of type "char" in the engine's own queries of PostgreSQL's catalogue, as it names them. */
const CHARACTER_COLUMNS = new Set(["constraint_type", "confdeltype", "confupdtype"]);

function readCharactersAsText(sql: string): string {
  return sql
    .replace("constr.contype AS", "constr.contype::text AS")
    .replace("con.confdeltype,", "con.confdeltype::text AS confdeltype,")
    .replace("con.confupdtype,", "con.confupdtype::text AS confupdtype,");
}

/** PostgreSQL tells the character at which a script went wrong; a person looks for the line. */
function withLine(error: unknown, script: string): unknown {
  if (!(error instanceof DatabaseError) || error.position === undefined) return error;
  const line = script.slice(0, Number(error.position)).split("\n").length;
  return new Error(`${error.message} (line ${String(line)})`, { cause: error });
}

/**
 * Runs `work` with an engine on one database that knows one data model.
 *
 * @param url    connection string of the database
 * @param schema text of schema.prisma
 */
export async function withEngine<T>(
  url: string,
  schema: string,
  work: (engine: SchemaEngine) => Promise<T>,
): Promise<T> {
  engineClass ??= loadEngine();
  const Engine = await engineClass;
  const pool = new Pool({ connectionString: url, max: 4, idleTimeoutMillis: 0 });
  const adapter = bindMigrationAwareSqlAdapterFactory(new MigrationAdapter(pool));
  const engine = await Engine.new({ datamodels: [["schema.prisma", schema]] }, ignoreLog, adapter);
  try {
    return await work(engine);
  } finally {
    engine.free();
    await pool.end();
  }
}

/** The engine reports its steps; whatever goes wrong it throws as well. */
function ignoreLog(): void {
  return undefined;
}
