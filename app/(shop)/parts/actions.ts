"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { SALT_GRADES } from "@/lib/electrolysis";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  addPart,
  addPhoto,
  changePart,
  handBackPart,
  makePlan,
  overruleVerdict,
  removePart,
  removePhoto,
  takeBackPart,
} from "@/lib/services";
import {
  COATINGS,
  GOALS,
  HARDNESS_MATTERS,
  HAZARDS,
  MATERIALS,
  PART_SHAPES,
  RUST_GRADES,
} from "@/lib/treatment";
import { enteredLength, enteredMass } from "../measures";

const PartForm = z.object({
  description: input.text("what it is"),
  quantity: input.numberFrom(1, 999, "pieces").transform(Math.round),
  shape: z.enum(PART_SHAPES, "Choose a shape."),
  length: input.numberFrom(0.01, 20_000, "mm or in"),
  width: input.numberFrom(0.01, 20_000, "mm or in"),
  height: input.numberFrom(0.01, 20_000, "mm or in"),
  wall: input.optionalNumberFrom(0.001, 1000, "mm or in"),
  areaOverrideM2: input.optionalNumberFrom(0.0001, 100, "m²"),
  mass: input.optionalNumberFrom(0.001, 20_000, "kg or lb"),
  material: z.enum(MATERIALS, "Choose a material."),
  hardnessHrc: input.optionalNumberFrom(0, 70, "HRC"),
  tensileMpa: input.optionalNumberFrom(0, 2500, "MPa"),
  rustGrade: z.enum(RUST_GRADES, "Choose a grade."),
  coatings: z.array(z.enum(COATINGS)),
  hazards: z.array(z.enum(HAZARDS)),
  goal: z.enum(GOALS, "Choose one."),
  partNotes: input.optionalText(4000),
});
type PartFormValues = z.output<typeof PartForm>;

/** What was typed, in the shop's units, as the part it describes. */
async function partFrom(typed: PartFormValues) {
  const { unitSystem } = await shopSettings();
  const length = (value: number): number => enteredLength(value, unitSystem);
  const hollow = typed.shape !== "PLATE" && typed.shape !== "SOLID";
  const strengthCounts = HARDNESS_MATTERS.includes(typed.material);
  const fastener = typed.hazards.includes("HIGH_STRENGTH_FASTENER");
  return {
    description: typed.description,
    quantity: typed.quantity,
    shape: typed.shape,
    lengthMm: length(typed.length),
    widthMm: length(typed.width),
    heightMm: length(typed.height),
    wallMm: hollow && typed.wall !== null ? length(typed.wall) : null,
    massG: typed.mass === null ? null : enteredMass(typed.mass, unitSystem),
    areaOverrideM2: typed.areaOverrideM2,
    material: typed.material,
    hardnessHrc: strengthCounts || fastener ? typed.hardnessHrc : null,
    tensileMpa: strengthCounts || fastener ? typed.tensileMpa : null,
    rustGrade: typed.rustGrade,
    coatings: typed.coatings,
    hazards: typed.hazards,
    goal: typed.goal,
    notes: typed.partNotes,
  };
}

export const addPartAction = formAction(
  PartForm.extend({ jobId: input.id }),
  async (actor, { jobId, ...typed }) => {
    redirect(`/parts/${await addPart(actor, jobId, await partFrom(typed), new Date())}`);
  },
);

export const changePartAction = formAction(
  PartForm.extend({ id: input.id }),
  async (actor, { id, ...typed }) => {
    await changePart(actor, id, await partFrom(typed), new Date());
    redirect(`/parts/${id}`);
  },
);

const WhichPart = z.object({ id: input.id });

export const removePartAction = formAction(WhichPart, async (actor, { id }) => {
  redirect(`/jobs/${await removePart(actor, id, new Date())}`);
});

export const handBackAction = formAction(WhichPart, async (actor, { id }) => {
  await handBackPart(actor, id, new Date());
  revalidatePath(`/parts/${id}`);
});

export const takeBackAction = formAction(WhichPart, async (actor, { id }) => {
  await takeBackPart(actor, id, new Date());
  revalidatePath(`/parts/${id}`);
});

export const overruleAction = formAction(
  WhichPart.extend({ reason: input.text("why", 1000) }),
  async (actor, { id, reason }) => {
    await overruleVerdict(actor, id, reason, new Date());
    revalidatePath(`/parts/${id}`);
  },
);

export const makePlanAction = formAction(
  WhichPart.extend({
    goal: z.enum(GOALS, "Choose one."),
    saltGrade: z.enum(SALT_GRADES, "Choose a soda."),
    tankId: z.union([z.literal(""), input.id]).default(""),
  }),
  async (actor, { id, goal, saltGrade, tankId }) => {
    const choice = { partId: id, goal, saltGrade, ...(tankId ? { tankId } : {}) };
    await makePlan(actor, choice, new Date());
    revalidatePath(`/parts/${id}`);
    return { message: "Planned." };
  },
);

export const addPhotoAction = formAction(
  WhichPart.extend({
    moment: z.enum(["BEFORE", "DURING", "AFTER"], "Choose a moment."),
    caption: input.optionalText(200),
    photo: z.instanceof(File, { error: "Choose a file." }),
  }),
  async (actor, { id, moment, caption, photo }) => {
    const bytes = new Uint8Array(await photo.arrayBuffer());
    await addPhoto(actor, { partId: id, moment, caption, bytes }, new Date());
    revalidatePath(`/parts/${id}`);
    return { message: "The photo is kept." };
  },
);

export const removePhotoAction = formAction(
  WhichPart.extend({ partId: input.id }),
  async (actor, { id, partId }) => {
    await removePhoto(actor, id, new Date());
    revalidatePath(`/parts/${partId}`);
  },
);
