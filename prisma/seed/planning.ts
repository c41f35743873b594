/** Verdicts and plans of the example shop, made by the same calculations that the screens use. */
import { decide, mayGoIn, type PartDescription, planPart, type TankOption } from "@/lib/treatment";
import { type TankShape, volumeAt } from "@/lib/tanks";
import { millimetres } from "@/lib/units";
import type { ExampleRows } from "@/lib/data";
import type { ExampleTank } from "./vessels";
import { note, type SeedPart, type TankInUse, type World } from "./world";

type LevelMarks = ExampleRows["levelMarks"];

export type SeedPlan = {
  readonly tank: TankInUse;
  readonly planId: string;
  readonly areaM2: number;
  readonly solutionL: number;
  readonly saltG: number;
  readonly currentA: number;
  readonly currentLowA: number;
  readonly currentHighA: number;
  readonly hoursP10: number;
  readonly hoursP50: number;
  readonly hoursP90: number;
  readonly chargeAh: number;
  readonly anodeLossG: number;
  readonly energyKwh: number;
  readonly dips: number;
};

/** Decides on a part and writes the verdict down. @returns whether it may go in */
export function judge(world: World, part: SeedPart, at: Date): boolean {
  const verdict = decide(described(part));
  world.rows.verdicts.push({
    id: world.chance.uuid(),
    partId: part.id,
    decidedAt: at,
    decidedById: world.people.deskId,
    outcome: verdict.outcome,
    findings: verdict,
  });
  note(world, at, world.people.deskId, "verdict.decided", part.id);
  return mayGoIn(verdict.outcome);
}

/** Plans a part for the tanks as they stand; null when none does. */
export function planFor(world: World, part: SeedPart, at: Date): SeedPlan | null {
  const answer = planPart({
    part: described(part),
    tanks: world.tanks.map((tank) => optionOf(tank, world.rows.levelMarks)),
    workshop: { temperatureC: 18, roomVolumeM3: 60, saltGrade: "SODA_ASH_LIGHT" },
  });
  const tank = answer.planned && world.tanks.find((one) => one.tank.id === answer.plan.tankId);
  if (!answer.planned || !tank) return null;
  const { plan } = answer;
  const { figures } = plan;
  const planned: SeedPlan = {
    tank,
    planId: world.chance.uuid(),
    areaM2: figures.areaM2.value,
    solutionL: figures.solutionL.value,
    saltG: figures.saltG.value,
    currentA: plan.currentA.mid,
    currentLowA: plan.currentA.low,
    currentHighA: plan.currentA.high,
    hoursP10: plan.hours.p10,
    hoursP50: plan.hours.p50,
    hoursP90: plan.hours.p90,
    chargeAh: figures.chargeAh.value,
    anodeLossG: figures.anodeLossG.value,
    energyKwh: figures.energyKwh.value,
    dips: plan.dips,
  };
  world.rows.plans.push({
    id: planned.planId,
    partId: part.id,
    version: 1,
    madeAt: at,
    madeById: world.people.deskId,
    tankId: tank.tank.id,
    areaM2: planned.areaM2,
    solutionL: planned.solutionL,
    saltGrade: plan.saltGrade,
    saltG: planned.saltG,
    currentA: planned.currentA,
    hoursP50: planned.hoursP50,
    hoursP90: planned.hoursP90,
    chargeAh: planned.chargeAh,
    anodeLossG: planned.anodeLossG,
    energyKwh: planned.energyKwh,
    dipCount: plan.dips,
    result: plan,
  });
  return planned;
}

/** Litres that a tank holds at its working level. */
export function workingVolumeL({ tank }: ExampleTank, marks: LevelMarks): number {
  return volumeAt(shapeOf(tank, marks), millimetres(tank.workingLevelMm));
}

/** The catalogue's codes are those of lib/treatment; the database keeps them as text. */
function described(part: SeedPart): PartDescription {
  return {
    quantity: 1,
    areaOverrideM2: null,
    tensileMpa: null,
    ...part,
    coatings: part.coatings ?? [],
    hazards: part.hazards ?? [],
  } as PartDescription;
}

function optionOf(inUse: TankInUse, marks: LevelMarks): TankOption {
  const { tank, supply, bath } = inUse;
  return {
    id: tank.id,
    name: tank.name,
    shape: shapeOf(tank, marks),
    workingLevelMm: tank.workingLevelMm,
    clearanceMm: tank.clearanceMm ?? 50,
    anode: { areaM2: inUse.anodeAreaM2, lossFactor: inUse.lossFactor },
    bath: {
      carbonateG: bath.carbonateG ?? 0,
      bicarbonateG: bath.bicarbonateG ?? 0,
      volumeL: bath.volumeL,
    },
    supply: supplyOf(supply),
    supplyEfficiency: supply.efficiency ?? 0.75,
    leadLengthM: tank.leadLengthM ?? 2,
    leadAreaMm2: tank.leadAreaMm2 ?? 4,
    contactOhm: tank.contactOhm ?? 0.02,
  };
}

function supplyOf(supply: ExampleTank["supply"]): NonNullable<TankOption["supply"]> {
  const dutyFactor = supply.dutyFactor ?? 0.8;
  if (supply.kind === "BENCH") {
    return {
      kind: "BENCH",
      voltageV: supply.openVoltageV,
      currentLimitA: supply.ratedCurrentA,
      dutyFactor,
    };
  }
  return {
    kind: "CHARGER",
    openVoltageV: supply.openVoltageV,
    innerResistanceOhm: supply.innerResistanceOhm ?? 0,
    ratedCurrentA: supply.ratedCurrentA,
    dutyFactor,
  };
}

function shapeOf(tank: ExampleTank["tank"], marks: LevelMarks): TankShape {
  switch (tank.kind) {
    case "ROUND":
      return {
        kind: "ROUND",
        topDiameterMm: tank.topLengthMm,
        bottomDiameterMm: tank.bottomLengthMm,
        depthMm: tank.depthMm,
      };
    case "MEASURED":
      return {
        kind: "MEASURED",
        lengthMm: tank.topLengthMm,
        widthMm: tank.topWidthMm,
        depthMm: tank.depthMm,
        marks: marks.filter((mark) => mark.tankId === tank.id),
      };
    case "TAPERED_BOX":
      return {
        kind: "TAPERED_BOX",
        topLengthMm: tank.topLengthMm,
        topWidthMm: tank.topWidthMm,
        bottomLengthMm: tank.bottomLengthMm,
        bottomWidthMm: tank.bottomWidthMm,
        depthMm: tank.depthMm,
      };
  }
}
