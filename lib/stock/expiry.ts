const MS_PER_DAY = 86_400_000;

/** A lot with a last good day. */
export type PerishableLot = {
  readonly id: string;
  readonly onHand: number;
  /** last good day, as midnight UTC; null where it keeps */
  readonly expiresOn: Date | null;
};

export type ExpiringLot<Lot extends PerishableLot = PerishableLot> = {
  readonly lot: Lot;
  readonly state: "EXPIRED" | "SOON";
  /** 0 on its last good day, negative after it */
  readonly daysLeft: number;
};

/**
 * Lots that still hold something and are past their last good day, or will be soon; the most urgent first.
 *
 * @param today      the shop's day, as midnight UTC
 * @param withinDays how near counts as soon, whole days of 0 or more
 * @example expiringLots([epoxy], new Date("2026-11-25"), 30)[0]?.daysLeft // 12
 */
export function expiringLots<Lot extends PerishableLot>(
  lots: readonly Lot[],
  today: Date,
  withinDays: number,
): readonly ExpiringLot<Lot>[] {
  return lots
    .flatMap((lot): ExpiringLot<Lot>[] => {
      if (lot.expiresOn === null || lot.onHand <= 0) return [];
      const daysLeft = Math.round((lot.expiresOn.getTime() - today.getTime()) / MS_PER_DAY);
      if (daysLeft > withinDays) return [];
      return [{ lot, daysLeft, state: daysLeft < 0 ? "EXPIRED" : "SOON" }];
    })
    .sort((a, b) => a.daysLeft - b.daysLeft);
}
