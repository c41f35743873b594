/**
 * Pins the shapes in which the database's refusals arrive: lib/data/errors.ts reads them, and a new
 * version of the driver that changed them would otherwise turn every refusal into a fault.
 */
import { describe, expect, it } from "vitest";
import { inTransaction, sqlState, violatedConstraint } from "@/lib/data";
import { database } from "@/lib/data/client";
import { Refusal } from "@/lib/errors";

const NOW = new Date("2030-01-07T08:00:00Z");

async function failure(work: () => Promise<unknown>): Promise<unknown> {
  try {
    await work();
  } catch (error) {
    return error;
  }
  throw new Error("the database should have refused this");
}

async function createTank(name: string) {
  return database().tank.create({
    data: {
      name,
      kind: "ROUND",
      topLengthMm: 500,
      topWidthMm: 500,
      bottomLengthMm: 450,
      bottomWidthMm: 450,
      depthMm: 800,
      workingLevelMm: 650,
      createdAt: NOW,
    },
  });
}

function run(tankId: string, number: number, fromHour: number, toHour: number) {
  return {
    number,
    tankId,
    startsAt: new Date(Date.UTC(2030, 0, 7, fromHour)),
    endsAt: new Date(Date.UTC(2030, 0, 7, toHour)),
    expectedCurrentA: 4,
    currentLowA: 3,
    currentHighA: 6,
    targetChargeAh: 30,
    bookedAt: NOW,
    idempotencyKey: `driver-errors-${number}`,
  };
}

describe("what the driver says when the database refuses", () => {
  it("names the exclusion constraint, and it becomes tank-busy", async () => {
    const tank = await createTank("exclusion");
    await database().run.create({ data: run(tank.id, 901, 9, 12) });
    const overlap = { data: run(tank.id, 902, 11, 14) };

    const raw = await failure(() => database().run.create(overlap));
    expect(sqlState(raw)).toBe("23P01");
    expect(violatedConstraint(raw)).toBe("run_tank_free");
    await expect(inTransaction((db) => db.run.create(overlap))).rejects.toMatchObject({
      name: "Refusal",
      code: "tank-busy",
    });
  });

  it("names the unique key, and it becomes a conflict", async () => {
    await createTank("unique");
    const raw = await failure(() => createTank("unique"));
    expect(violatedConstraint(raw)).toBe("tank_name_key");
    const refused = await failure(() =>
      inTransaction((db) =>
        db.tank.create({
          data: {
            name: "unique",
            kind: "ROUND",
            topLengthMm: 1,
            topWidthMm: 1,
            bottomLengthMm: 1,
            bottomWidthMm: 1,
            depthMm: 1,
            workingLevelMm: 1,
            createdAt: NOW,
          },
        }),
      ),
    );
    expect(refused).toBeInstanceOf(Refusal);
    expect(refused).toMatchObject({ code: "conflict" });
  });

  it("names the check, and an unknown check stays a fault", async () => {
    const tank = await createTank("check");
    const backwards = { data: run(tank.id, 903, 12, 9) };
    const raw = await failure(() => database().run.create(backwards));
    expect(sqlState(raw)).toMatch(/^(23514|22000)$/);
    const wrapped = await failure(() => inTransaction((db) => db.run.create(backwards)));
    expect(wrapped).not.toBeInstanceOf(Refusal);
  });

  it("lets nobody change or delete the audit trail", async () => {
    const line = await database().auditEntry.create({
      data: { at: NOW, action: "tank.added", subjectType: "tank", subjectId: "1" },
    });
    const change = () =>
      database().auditEntry.update({ where: { id: line.id }, data: { action: "nothing" } });
    const removal = () => database().auditEntry.delete({ where: { id: line.id } });
    expect(String(await failure(change))).toContain("append-only");
    expect(String(await failure(removal))).toContain("append-only");
  });
});
