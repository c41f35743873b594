import { expect, it } from "vitest";
import { compileKernels } from "@/test/support/compile-kernels.mjs";
import { kernels } from "./kernels";

it("is what the folder assembly compiles to", async () => {
  expect(Buffer.from(kernels()).equals(Buffer.from(await compileKernels()))).toBe(true);
});
