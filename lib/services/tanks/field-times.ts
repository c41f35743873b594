/** A plan as far as its share of a load's field goes. */
type PlanInLoad = {
  readonly areaM2: number;
  readonly dipCount: number;
  readonly fieldTimes: number | null;
};

/**
 * What the fields of a load's plans say of the closed form: shape length by the field over that by the closed form, the
 * mean by area. A plan that rests on the closed form counts as 1.
 *
 * @returns undefined where no plan rests on a field
 * @example fieldTimesOf([{ plan: { areaM2: 0.2, dipCount: 1, fieldTimes: 0.8 } }]) // 0.8
 */
export function fieldTimesOf(dips: readonly { readonly plan: PlanInLoad }[]): number | undefined {
  if (dips.every(({ plan }) => plan.fieldTimes === null)) return undefined;
  let [area, sum] = [0, 0];
  for (const { plan } of dips) {
    const dipped = plan.areaM2 / plan.dipCount;
    area += dipped;
    sum += dipped * (plan.fieldTimes ?? 1);
  }
  return sum / area;
}
