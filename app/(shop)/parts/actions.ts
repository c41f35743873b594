"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { SALT_GRADES } from "@/lib/electrolysis";
import { formAction, input } from "@/lib/server";
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
  isAsked,
  MATERIALS,
  PART_SHAPES,
  RUST_GRADES,
} from "@/lib/treatment";
import type { UnitSystem } from "@/lib/units";

const MOST_MM = 500_000;
const MOST_G = 20_000_000;

/** Measures are in what the form was shown in, or in the unit typed beside them. */
const partForm = (units: UnitSystem) =>
  z.object({
    description: input.text("what it is"),
    quantity: input.numberFrom(1, 999, "pieces").transform(Math.round),
    shape: z.enum(PART_SHAPES, "Choose a shape."),
    length: input.measureFrom("length", 0.01, MOST_MM, units),
    width: input.measureFrom("length", 0.01, MOST_MM, units),
    height: input.measureFrom("length", 0.01, MOST_MM, units),
    wall: input.optionalMeasureFrom("thickness", 0.001, 1000, units),
    areaOverrideM2: input.optionalMeasureFrom("area", 0.0001, 100, units),
    mass: input.optionalMeasureFrom("partMass", 0.1, MOST_G, units),
    material: z.enum(MATERIALS, "Choose a material."),
    hardnessHrc: input.optionalNumberFrom(0, 70, "HRC"),
    tensileMpa: input.optionalMeasureFrom("stress", 0, 2500, units),
    rustGrade: z.enum(RUST_GRADES, "Choose a grade."),
    coatings: z.array(z.enum(COATINGS)),
    hazards: z.array(z.enum(HAZARDS)),
    goal: z.enum(GOALS, "Choose one."),
    partNotes: input.optionalText(4000),
  });
type PartFormValues = z.output<ReturnType<typeof partForm>>;

/** What was typed, as the part it describes. */
function partFrom(typed: PartFormValues) {
  const hollow = typed.shape !== "PLATE" && typed.shape !== "SOLID";
  const strengthCounts = HARDNESS_MATTERS.includes(typed.material);
  // A box that was ticked and then hidden by another metal or shape no longer counts.
  const hazards = typed.hazards.filter((hazard) => isAsked(hazard, typed));
  const fastener = hazards.includes("HIGH_STRENGTH_FASTENER");
  return {
    description: typed.description,
    quantity: typed.quantity,
    shape: typed.shape,
    lengthMm: typed.length,
    widthMm: typed.width,
    heightMm: typed.height,
    wallMm: hollow ? typed.wall : null,
    massG: typed.mass,
    areaOverrideM2: typed.areaOverrideM2,
    material: typed.material,
    hardnessHrc: strengthCounts || fastener ? typed.hardnessHrc : null,
    tensileMpa: strengthCounts || fastener ? typed.tensileMpa : null,
    rustGrade: typed.rustGrade,
    coatings: typed.coatings,
    hazards,
    goal: typed.goal,
    notes: typed.partNotes,
  };
}

export const addPartAction = formAction(
  (units) => partForm(units).extend({ jobId: input.id }),
  async (actor, { jobId, ...typed }) => {
    redirect(`/parts/${await addPart(actor, jobId, partFrom(typed), new Date())}`);
  },
);

export const changePartAction = formAction(
  (units) => partForm(units).extend({ id: input.id }),
  async (actor, { id, ...typed }) => {
    await changePart(actor, id, partFrom(typed), new Date());
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
    innerAnode: z.enum(["yes", "no"], "Choose one.").default("no"),
  }),
  async (actor, { id, goal, saltGrade, tankId, innerAnode }) => {
    const choice = {
      ...{ partId: id, goal, saltGrade, innerAnode: innerAnode === "yes" },
      ...(tankId ? { tankId } : {}),
    };
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
