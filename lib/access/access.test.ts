import { describe, expect, it } from "vitest";
import { isRefusal } from "@/lib/errors";
import { may, type Permission, PERMISSIONS, requirePermission, type Role, ROLES } from "./index";

const actor = (role: string) => ({ personId: "1", name: "Ada", role: role as Role });

describe("may", () => {
  it("gives the owner every permission", () => {
    for (const permission of PERMISSIONS) expect(may(actor("OWNER"), permission)).toBe(true);
  });

  it("keeps money and people from the bench", () => {
    const refused: Permission[] = ["see-money", "set-rates", "manage-people", "quote", "bill"];
    for (const permission of refused) expect(may(actor("BENCH"), permission)).toBe(false);
    expect(may(actor("BENCH"), "work-runs")).toBe(true);
  });

  it("keeps the front desk from rates, people and overruling a verdict", () => {
    const refused: Permission[] = ["set-rates", "manage-people", "overrule-verdict", "set-up-shop"];
    for (const permission of refused) expect(may(actor("FRONT_DESK"), permission)).toBe(false);
    expect(may(actor("FRONT_DESK"), "quote")).toBe(true);
    expect(may(actor("FRONT_DESK"), "bill")).toBe(true);
  });

  it("refuses a role it does not know, whatever is asked", () => {
    for (const role of ["", "owner", "ADMIN", "__proto__", "constructor"]) {
      for (const permission of PERMISSIONS) expect(may(actor(role), permission)).toBe(false);
    }
  });

  it("refuses a permission it does not know, whoever asks", () => {
    for (const role of ROLES) {
      for (const permission of ["", "everything", "toString"]) {
        expect(may(actor(role), permission as Permission)).toBe(false);
      }
    }
  });
});

describe("requirePermission", () => {
  it("throws a refusal that names the role and the permission", () => {
    try {
      requirePermission(actor("BENCH"), "set-rates");
      expect.unreachable("the bench may not set rates");
    } catch (error) {
      expect(isRefusal(error) && error.code).toBe("not-allowed");
      expect(String(error)).toContain("bench");
      expect(String(error)).toContain("set-rates");
    }
  });

  it("lets a permitted person pass", () => {
    expect(() => requirePermission(actor("BENCH"), "work-runs")).not.toThrow();
  });
});
