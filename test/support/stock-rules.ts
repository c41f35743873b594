/** What must hold of the stock ledger, asked of the database in SQL that shares nothing with its triggers. */
import { database } from "@/lib/data/client";

const RULES: Readonly<Record<string, string>> = {
  "a lot holds the sum of its lines": `
    SELECT l."id" FROM "lot" l LEFT JOIN "ledger_entry" e ON e."lot_id" = l."id"
     GROUP BY l."id" HAVING coalesce(sum(e."quantity"), 0) <> l."on_hand"`,
  "a lot is worth the sum of its lines' costs": `
    SELECT l."id" FROM "lot" l LEFT JOIN "ledger_entry" e ON e."lot_id" = l."id"
     GROUP BY l."id" HAVING coalesce(sum(e."cost_minor"), 0) <> l."value_minor"`,
  "nothing is below zero": `
    SELECT "id" FROM "lot" WHERE "on_hand" < 0 OR "value_minor" < 0`,
  "what is empty is worth nothing": `
    SELECT "id" FROM "lot" WHERE "on_hand" = 0 AND "value_minor" <> 0`,
  "value is conserved: what came in less what went out is what is left": `
    SELECT e."item_id" FROM "ledger_entry" e GROUP BY e."item_id"
    HAVING sum(e."cost_minor") <> (SELECT sum(l."value_minor") FROM "lot" l WHERE l."item_id" = e."item_id")`,
  "a line and its correction cancel": `
    SELECT c."id" FROM "ledger_entry" c JOIN "ledger_entry" e ON e."id" = c."corrects_id"
     WHERE c."quantity" + e."quantity" <> 0 OR c."cost_minor" + e."cost_minor" <> 0
        OR c."at" <> e."at" OR c."kind" <> e."kind" OR c."lot_id" <> e."lot_id"
        OR c."job_id" IS DISTINCT FROM e."job_id" OR c."run_id" IS DISTINCT FROM e."run_id"`,
  "a line is corrected once": `
    SELECT "corrects_id" FROM "ledger_entry" WHERE "corrects_id" IS NOT NULL
     GROUP BY "corrects_id" HAVING count(*) > 1`,
  "no line is of another item than its lot": `
    SELECT e."id" FROM "ledger_entry" e JOIN "lot" l ON l."id" = e."lot_id" WHERE l."item_id" <> e."item_id"`,
};

/** The rules that the ledger breaks; none is expected ever. */
export async function brokenStockRules(): Promise<readonly string[]> {
  const broken: string[] = [];
  for (const [rule, sql] of Object.entries(RULES)) {
    const rows = await database().$queryRawUnsafe<unknown[]>(sql);
    if (rows.length > 0) broken.push(`${rule}: ${rows.length} times not`);
  }
  return broken;
}
