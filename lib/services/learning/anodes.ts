import type { AnodeRow, TankRow } from "@/lib/data";
import { anodeMassDissolved, bathDissolvingShare, DISSOLVING_SHARE } from "@/lib/electrolysis";
import { type AnodeScale, type LearnedLossFactor, learnLossFactor } from "@/lib/learning";
import { ampereHours } from "@/lib/units";

type Weighed = { readonly at: Date; readonly massG: number; readonly errorG: number };

/** φ before any weighing, and its error: what the soda in the tank makes likely; carbonate's in an empty one. */
export function firstLoss(bath: TankRow["bath"]): {
  readonly mean: number;
  readonly error: number;
} {
  if (!bath) return DISSOLVING_SHARE.SODIUM_CARBONATE;
  return bathDissolvingShare({
    carbonateMassG: bath.carbonateG,
    bicarbonateMassG: bath.bicarbonateG,
    volumeL: bath.volumeL,
    temperatureC: bath.temperatureC,
  });
}

/**
 * φ of an anode from all of its weighings, those given with it and `fresh` ones, each with the charge until then.
 * The weighing before it was hung is taken to be as good as the first one after.
 */
export function learnAnode(
  anode: Pick<AnodeRow, "initialMassG" | "weighings" | "wear">,
  bath: TankRow["bath"],
  fresh: readonly Weighed[] = [],
): LearnedLossFactor {
  const weighings = [...anode.weighings, ...fresh].sort((a, b) => a.at.getTime() - b.at.getTime());
  const [first] = weighings;
  if (!first) return learnLossFactor(firstLoss(bath), []);
  const hung: AnodeScale = { massG: anode.initialMassG, errorG: first.errorG, mostLossG: 0 };
  return learnLossFactor(firstLoss(bath), [
    hung,
    ...weighings.map(({ at, massG, errorG }) => ({
      massG,
      errorG,
      mostLossG: anodeMassDissolved(ampereHours(chargeUntil(anode.wear, at))),
    })),
  ]);
}

function chargeUntil(wear: AnodeRow["wear"], at: Date): number {
  return wear
    .filter(({ run }) => run.pulledAt !== null && run.pulledAt <= at)
    .reduce((sum, { chargeAh }) => sum + chargeAh, 0);
}
