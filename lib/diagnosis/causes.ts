/** What may be the matter with a run, in the order in which equals are shown. */
export const CAUSES = [
  "AS_IT_SHOULD",
  "LEAD_OPEN",
  "LEAD_CORRODED",
  "POOR_CONTACT",
  "ANODE_PASSIVE",
  "ANODE_WORN",
  "BATH_WEAK",
  "BATH_STRONG",
  "BATH_SPENT",
  "LEVEL_FALLEN",
  "TOUCHING",
  "SUPPLY_OFF",
  "REVERSED",
  "SOMETHING_ELSE",
] as const;
export type Cause = (typeof CAUSES)[number];

/** A value for each cause, most often its probability. */
export type ByCause = Readonly<Record<Cause, number>>;

/** Weights of all causes, divided by their sum. */
export function normalised(weightOf: (cause: Cause) => number): ByCause {
  const total = CAUSES.reduce((sum, cause) => sum + weightOf(cause), 0);
  // Every cause is listed, so the record is whole.
  return Object.fromEntries(CAUSES.map((cause) => [cause, weightOf(cause) / total])) as ByCause;
}

/** Each cause as a title, what it does to the meter, and how it is put right with the supply off. */
export const CAUSE_WORDS: Readonly<
  Record<Cause, { readonly title: string; readonly shows: string; readonly mend: string }>
> = {
  AS_IT_SHOULD: {
    title: "As it should be",
    shows: "Volts and amps within what this tank shows when all is well.",
    mend: "Nothing to do but to look again in time.",
  },
  LEAD_OPEN: {
    title: "Positive lead open",
    shows:
      "Full volts, and no current from one moment on. A clip that fell off the part reads the same.",
    mend: "Follow the positive lead to the anode: its clamp corrodes through first, above all if the bath wets it. Next, the clip on the part.",
  },
  LEAD_CORRODED: {
    title: "Positive lead corroding",
    shows: "The current falls faster and faster while the volts hold.",
    mend: "Cut the positive lead back to bright copper, and clamp it above the liquid.",
  },
  POOR_CONTACT: {
    title: "Poor contact at the part",
    shows: "Too little current, and it jumps about from one reading to the next.",
    mend: "Scrape a bright spot under the part's clip and clamp it again.",
  },
  ANODE_PASSIVE: {
    title: "Anode passivated",
    shows: "The current sinks over the hours and then settles low; the volts hold.",
    mend: "Lift the anode out and brush off the scale.",
  },
  ANODE_WORN: {
    title: "Anode worn",
    shows: "Too little current from the start, with an anode that has lost much of its steel.",
    mend: "Lift the anode out and weigh it. Hang a new one if it is thin.",
  },
  BATH_WEAK: {
    title: "Weak bath",
    shows: "Too little current from the start, and steady.",
    mend: "Measure the bath and weigh in what it lacks, a little at a time.",
  },
  BATH_STRONG: {
    title: "Bath too strong, or part nearer than planned",
    shows: "Too much current from the start, and steady.",
    mend: "See that the part hangs clear of the anode by {50 mm}. If it does, thin the bath with water.",
  },
  BATH_SPENT: {
    title: "Bath spent",
    shows: "Too little current in a bath that has passed much charge and conducts as it should.",
    mend: "Let the bath settle and strain it, or mix a new one.",
  },
  LEVEL_FALLEN: {
    title: "Level fallen",
    shows: "Less of part and anode is under the bath, and the current falls with it.",
    mend: "Look under the tank for a leak, then top up with plain water: soda does not evaporate.",
  },
  TOUCHING: {
    title: "Part touching the anode",
    shows: "From one moment on a high current at few volts.",
    mend: "Look where part, hanger or clip meets the anode, and part them by {50 mm}.",
  },
  SUPPLY_OFF: {
    title: "Supply off or tripped",
    shows: "No volts and no current.",
    mend: "Let the supply cool and look for a touch between part and anode; then see whether it starts again.",
  },
  REVERSED: {
    title: "Leads reversed",
    shows: "The meter shows less than zero: its leads or the tank's are the wrong way round.",
    mend: "Change the leads over: the part must be on the negative one, or it is eaten.",
  },
  SOMETHING_ELSE: {
    title: "Something else",
    shows: "Readings that no cause here explains; perhaps one was misread.",
    mend: "Read the meter again, then look the tank over from the supply to the part.",
  },
};
