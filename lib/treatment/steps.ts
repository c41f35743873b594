import { SALT_GRADE_FACTS } from "@/lib/electrolysis";
import type { HoursRange, SeenWithInnerAnode } from "./hours";
import type { PartDescription } from "./part";
import type { Candidate } from "./candidate";
import type { ReliefBake } from "./relief-bake";
import type { Workshop } from "./tank-option";

export type PlanStep = {
  readonly when: "BEFORE" | "BATH" | "AFTER";
  readonly title: string;
  readonly detail: string;
  readonly caution: string | null;
};

type StepContext = {
  readonly part: PartDescription;
  readonly chosen: Candidate;
  readonly hours: HoursRange;
  readonly hangInside: boolean;
  readonly bake: ReliefBake | null;
  readonly workshop: Workshop;
};

/** The ordered steps of one part, with amounts, times and cautions. */
export function planSteps(context: StepContext): PlanStep[] {
  return [...before(context), ...inTheBath(context), ...after(context)];
}

const step = (
  when: PlanStep["when"],
  title: string,
  detail: string,
  caution: string | null = null,
): PlanStep => ({ when, title, detail, caution });

function before({ part, chosen, workshop }: StepContext): PlanStep[] {
  const { bath, volumeL, tank } = chosen;
  const steps = [
    step("BEFORE", "Wash", "Knock off loose dirt, wash off oil and grease, rinse."),
    step(
      "BEFORE",
      "Bare a spot for the clip",
      "File one spot bright for the negative clip; a second one on long parts.",
    ),
  ];
  if (part.coatings.includes("LEAD_PAINT_SUSPECTED")) {
    steps.push(
      step(
        "BEFORE",
        "Test the paint for lead",
        "If it holds lead: separate bath, wet work only, sludge to a licensed carrier.",
        "29 CFR 1910.1025 in the US; local rules elsewhere.",
      ),
    );
  }
  if (bath.saltToAddG >= 1) {
    const { name } = SALT_GRADE_FACTS[workshop.saltGrade];
    steps.push(
      step(
        "BEFORE",
        bath.freshMix ? "Mix the bath" : "Strengthen the bath",
        bath.freshMix
          ? `{${Math.round(volumeL)} L} of water in ${tank.name}, {${Math.round(bath.saltToAddG)} g} of ${name}, stirred clear.`
          : `Stir {${Math.round(bath.saltToAddG)} g} of ${name} into ${tank.name}.`,
        "Goggles and gloves: soda irritates eyes and skin. Never table salt: it makes chlorine.",
      ),
    );
  }
  return steps;
}

function inTheBath({ chosen, hours, hangInside }: StepContext): PlanStep[] {
  const { fit, dips, band } = chosen;
  const steps = [
    step("BATH", "Hang the part", `${fit.words} It must not touch the anode anywhere.`),
    step(
      "BATH",
      "Connect, then switch on",
      "Supply off while clips move. Negative to the part, positive to the anode with its clip above the liquid.",
      "Hydrogen: open the room, no flame or spark, no lid on the tank. Check the polarity with a meter.",
    ),
    step(
      "BATH",
      "Read the meter",
      `After a quarter of an hour expect ${band.low.currentA.toFixed(1)} to ${band.high.currentA.toFixed(1)} A.`,
    ),
    step(
      "BATH",
      "Look",
      `First look after ${hoursWords(hours.p10)}; half are done by ${hoursWords(hours.p50)}, nine in ten by ${hoursWords(hours.p90)}.`,
    ),
  ];
  if (hangInside) {
    steps.splice(
      1,
      0,
      step(
        "BATH",
        "Hang an inner anode",
        innerWords(chosen.seen?.withInnerAnode),
        "It must not touch the part: that is a short circuit.",
      ),
    );
  }
  if (dips > 1) {
    steps.push(
      step(
        "BATH",
        "Turn end for end",
        `${dips} dips of about ${hoursWords(hours.p50 / dips)} each.`,
      ),
    );
  }
  return steps;
}

/** What to hang inside, in words. */
export function innerWords(best: SeenWithInnerAnode | null | undefined): string {
  const how = "on insulating spacers, joined to the wall anode";
  return best
    ? `${best.words}, {${best.clearanceMm} mm} clear of the part, ${how}.`
    : `A steel rod inside the hollow ${how}: the inside then keeps up.`;
}

function after({ part, bake }: StepContext): PlanStep[] {
  const steps = [
    step(
      "AFTER",
      "Switch off, then pull",
      "Supply off before any clip is touched. Let it drip over the tank.",
    ),
    step(
      "AFTER",
      "Rinse and brush",
      "Hot water, brush off the black film, rinse again; blow out seams.",
    ),
  ];
  if (bake) {
    steps.push(
      step(
        "AFTER",
        "Relief bake",
        `{${bake.leastC} to ${bake.mostC} °C} for ${bake.hours} h or more, begun within ${bake.startWithinHours} h of pulling, better within one.`,
        "ASTM B850-98 table, guidance only; baking does not guarantee freedom from hydrogen embrittlement.",
      ),
    );
  }
  steps.push(
    step(
      "AFTER",
      "Dry hot",
      part.material === "CAST_IRON"
        ? "Oven at {100 to 120 °C} until warm right through: cast iron holds water in its pores."
        : "Oven at {100 to 120 °C} or hot air until bone dry.",
    ),
    step(
      "AFTER",
      "Protect at once",
      "Oil or wax tools, primer for what is to be painted, within the hour.",
    ),
    step("AFTER", "Check the surface", "Look at every face; photograph it; record the result."),
  );
  return steps;
}

function hoursWords(hours: number): string {
  if (hours < 1) return `${Math.max(5, Math.round((hours * 60) / 5) * 5)} min`;
  return hours < 10 ? `${hours.toFixed(1)} h` : `${Math.round(hours)} h`;
}
