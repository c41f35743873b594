import { DIAGNOSIS_LIMITS } from "@/lib/diagnosis";

/**
 * Share of one bath that a charge uses up, for its salt and its disposal: the bath is spent after 20 A·h a litre
 * (assumption, see lib/diagnosis), or later where it has already passed more. Shares of all its charges never come to
 * more than the whole bath.
 *
 * @param chargeAh      A·h passed for the part or job, ≥ 0
 * @param volumeL       L, the whole bath, > 0
 * @param bathChargeAh  A·h that the bath has passed altogether so far, ≥ 0
 * @returns 0 to 1
 * @example bathShare(20, 60, 0) // 0.0167: a sixtieth of a 60 L bath
 */
export function bathShare(chargeAh: number, volumeL: number, bathChargeAh = 0): number {
  const lifeAh = Math.max(DIAGNOSIS_LIMITS.spentAhPerL * volumeL, bathChargeAh);
  return lifeAh > 0 ? Math.min(1, chargeAh / lifeAh) : 0;
}
