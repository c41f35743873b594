/** Valid customers, jobs and parts for tests of intake. Each takes overrides; what is left out is plausible. */
import type { Actor } from "@/lib/access";
import type { CustomerDescription, PartInput } from "@/lib/data";
import { addCustomer, addPart, takeInJob } from "@/lib/services";
import { NOW } from "./factories-money";

export const CUSTOMER: CustomerDescription = {
  name: "Ottilie Marsh",
  email: "ottilie@example.org",
  phone: "",
  address: "3 Weir Bank",
  notes: "",
};

/** A small skillet, rusty through and through, with nothing against the bath. */
export const SKILLET: PartInput = {
  description: "skillet",
  quantity: 1,
  notes: "",
  shape: "PAN",
  lengthMm: 260,
  widthMm: 260,
  heightMm: 50,
  wallMm: 4,
  massG: 2200,
  areaOverrideM2: null,
  material: "CAST_IRON",
  hardnessHrc: null,
  tensileMpa: null,
  rustGrade: "C",
  coatings: [],
  hazards: [],
  goal: "RUST_ONLY",
};

/** @returns its id */
export async function createCustomer(
  actor: Actor,
  overrides: Partial<CustomerDescription> = {},
): Promise<string> {
  return addCustomer(actor, { ...CUSTOMER, ...overrides }, NOW);
}

/** An open job of a customer of its own, taken in by the service and so numbered by it. @returns its id */
export async function createIntakeJob(
  actor: Actor,
  overrides: { readonly promisedFor?: Date | null; readonly customerId?: string } = {},
): Promise<string> {
  const { promisedFor = null, customerId } = overrides;
  const customer = customerId ? { id: customerId } : CUSTOMER;
  return takeInJob(actor, { customer, promisedFor, notes: "" }, NOW);
}

/** A part, taken in and judged by the service; of a job of its own where none is named. @returns its id */
export async function createPart(
  actor: Actor,
  { jobId, ...overrides }: Partial<PartInput> & { readonly jobId?: string } = {},
): Promise<string> {
  const part = { ...SKILLET, ...overrides };
  return addPart(actor, jobId ?? (await createIntakeJob(actor)), part, NOW);
}
