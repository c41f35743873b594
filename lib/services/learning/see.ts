import { type Actor, requirePermission } from "@/lib/access";
import { type AnodeRow, listAnodesWithHistory, reading, type TankRow } from "@/lib/data";
import {
  coverageOf,
  type Forecast,
  type LearnedHours,
  workedCoverage,
  workedFactor,
  workedLossFactor,
  workedResistance,
  workedShopFactor,
} from "@/lib/learning";
import {
  CONDITION_CLASS_NAMES,
  CONDITION_CLASSES,
  SHAPE_CLASS_NAMES,
  SHAPE_CLASSES,
} from "@/lib/treatment";
import type { Worked } from "@/lib/units";
import { firstLoss, learnAnode } from "./anodes";
import { hoursHistory } from "./hours";
import { type LearnedTank, learnTanks } from "./tanks";

/** One class of parts and the factor on its hours. */
export type LearnedClass = {
  readonly key: string;
  readonly name: string;
  readonly runs: number;
  /** of them known by a bound alone */
  readonly bounds: number;
  /** share that rests on the shop's mean, 0 to 1 */
  readonly pooled: number;
  readonly factor: Worked;
};

export type LearnedAnodeView = {
  readonly id: string;
  readonly name: string;
  readonly tankName: string;
  readonly lossFactor: Worked;
  /** newest first */
  readonly weighings: readonly {
    readonly at: Date;
    readonly massG: number;
    readonly errorG: number;
  }[];
};

export type LearnedTankView = {
  readonly id: string;
  readonly name: string;
  readonly loads: number;
  readonly contact: Worked;
  readonly bath: Worked;
};

/** All that the shop has learned from its own work. */
export type ShopLearned = {
  readonly runs: number;
  readonly shop: Worked;
  /** classes with runs of their own, the fullest first */
  readonly classes: readonly LearnedClass[];
  /** how forecasts held: by the middle figure, by the high one, and within the range; null while none is known */
  readonly coverage: { readonly figures: readonly Worked[]; readonly bounds: number } | null;
  readonly anodes: readonly LearnedAnodeView[];
  /** tanks whose loads were read */
  readonly tanks: readonly LearnedTankView[];
};

/** What this shop has learned, each figure with its working. @throws Refusal not-allowed */
export async function shopLearned(actor: Actor): Promise<ShopLearned> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { learned, forecasts } = await hoursHistory(db);
    const tanks = await learnTanks(db);
    const anodes = await listAnodesWithHistory(db);
    return {
      runs: learned.runs,
      shop: workedShopFactor(learned),
      classes: classesOf(learned),
      coverage: coverageView(forecasts),
      anodes: anodes.flatMap((anode) => anodeView(anode, tanks) ?? []),
      tanks: tanks.filter((one) => one.learned.loads > 0).map(tankView),
    };
  });
}

function classesOf(learned: LearnedHours): readonly LearnedClass[] {
  const all = SHAPE_CLASSES.flatMap((shape) =>
    CONDITION_CLASSES.map((condition) => ({
      key: `${shape} ${condition}`,
      name: `${SHAPE_CLASS_NAMES[shape]}, ${CONDITION_CLASS_NAMES[condition]}`,
    })),
  );
  return all
    .filter(({ key }) => learned.classKeys.includes(key))
    .map(({ key, name }) => {
      const own = learned.of(key);
      const { runs, bounds, pooled } = own;
      return { key, name, runs, bounds, pooled, factor: workedFactor(name, own) };
    })
    .sort((a, b) => b.runs - a.runs);
}

function coverageView(forecasts: readonly Forecast[]): ShopLearned["coverage"] {
  const coverage = coverageOf(forecasts);
  if (!coverage) return null;
  return {
    figures: [
      workedCoverage("done by the middle figure (P50)", coverage.byP50, 50),
      workedCoverage("done by the high figure (P90)", coverage.byP90, 90),
      workedCoverage("between low and high (P10 to P90)", coverage.inside, 80),
    ],
    bounds: coverage.bounds,
  };
}

function anodeView(anode: AnodeRow, tanks: readonly LearnedTank[]): LearnedAnodeView | null {
  const tank: TankRow | undefined = tanks.find((one) => one.tank.id === anode.tankId)?.tank;
  if (!tank) return null;
  return {
    id: anode.id,
    name: anode.name,
    tankName: tank.name,
    lossFactor: workedLossFactor(firstLoss(tank.bath), learnAnode(anode, tank.bath)),
    weighings: anode.weighings.map(({ at, massG, errorG }) => ({ at, massG, errorG })),
  };
}

function tankView({ tank, learned }: LearnedTank): LearnedTankView {
  const { contact, bath } = workedResistance(tank.contactOhm, learned);
  return { id: tank.id, name: tank.name, loads: learned.loads, contact, bath };
}
