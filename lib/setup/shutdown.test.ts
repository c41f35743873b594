import { describe, expect, it, vi } from "vitest";
import { Shutdown } from "./shutdown";

describe("Shutdown", () => {
  it("undoes the last step first, once", async () => {
    const order: string[] = [];
    const shutdown = new Shutdown();
    for (const name of ["database", "worker", "web server"]) {
      await shutdown.add(async () => {
        order.push(name);
        await Promise.resolve();
      });
    }

    await Promise.all([shutdown.run(), shutdown.run()]);

    expect(order).toEqual(["web server", "worker", "database"]);
  });

  it("undoes at once what is started after the end began", async () => {
    const shutdown = new Shutdown();
    await shutdown.run();
    let undone = false;

    await shutdown.add(async () => {
      undone = true;
      await Promise.resolve();
    });

    expect(undone).toBe(true);
  });

  it("ends the rest when one part cannot be ended", async () => {
    const complaint = vi.spyOn(console, "error").mockImplementation(() => undefined);
    const shutdown = new Shutdown();
    let databaseStopped = false;
    await shutdown.add(async () => {
      databaseStopped = true;
      await Promise.resolve();
    });
    await shutdown.add(() => Promise.reject(new Error("the worker hangs")));

    await shutdown.run();

    expect(databaseStopped).toBe(true);
    expect(complaint).toHaveBeenCalledWith("the worker hangs");
    complaint.mockRestore();
  });
});
