/** Mixing, topping up and disposing of the example shop's baths; hanging and weighing its anodes. */
import { anhydrousMass } from "@/lib/electrolysis";
import { grams } from "@/lib/units";
import { DAY, HOUR, nextOpen } from "./calendar";
import { ITEM_NAMES } from "./stockroom";
import type { ExampleTank } from "./vessels";
import { type BathInUse, note, type TankInUse, type World } from "./world";

/** A bath serves about this long before its sludge is too much: common practice, no source. */
const BATH_DAYS = 75;
/** Grams of salt as bought per litre of a fresh bath. */
const DOSE_G_PER_L = { carbonate: 4, bicarbonate: 12 } as const;

/** Hangs the wall anode and mixes the first bath. */
export function fillTank(
  world: Omit<World, "tanks">,
  tank: ExampleTank,
  volumeL: number,
): TankInUse {
  const at = nextOpen(
    world.zone,
    new Date(world.from.getTime() + world.chance.between(1, 8) * HOUR),
  );
  world.rows.anodes.push({
    id: tank.anodeId,
    tankId: tank.tank.id,
    place: "WALL",
    name: "Wall anode",
    installedAt: at,
    initialMassG: tank.anodeMassG,
    wettedAreaM2: tank.anodeAreaM2,
    lossFactor: tank.lossFactor,
    lossFactorError: 0.06,
    costMinor: Math.round(tank.anodeMassG * 0.4),
  });
  const bath = mix(world, tank, volumeL, at);
  return { ...tank, bath, freeFrom: new Date(at.getTime() + HOUR), anodeLossG: 0 };
}

/** Renews the bath when it is old, before the load that would go in at `at`; gives when the tank is ready. */
export function renewBathIfOld(world: World, tank: TankInUse, at: Date): Date {
  if (at.getTime() - tank.bath.mixedAt.getTime() < BATH_DAYS * DAY) return at;
  tank.bath.disposedAt = at;
  tank.bath.disposalNote = "Settled, sludge skimmed into the drum for the licensed carrier.";
  note(world, at, world.people.benchId, "bath.disposed", tank.bath.id);
  const mixedAt = nextOpen(world.zone, new Date(at.getTime() + 1.5 * HOUR));
  tank.bath = mix(world, tank, tank.bath.volumeL, mixedAt);
  return nextOpen(world.zone, new Date(mixedAt.getTime() + HOUR / 2));
}

/** Plain water against evaporation, as the bench does about every third load. */
export function topUp(world: World, tank: TankInUse, at: Date): void {
  if (!world.chance.chance(0.35) || at > world.now) return;
  world.rows.bathAdditions.push({
    id: world.chance.uuid(),
    bathId: tank.bath.id,
    at,
    waterL: Math.round(world.chance.between(1, 6)),
    note: "Plain water to the line.",
  });
}

/** Weighs the wall anode, with the scale's error. */
export function weighAnode(world: World, tank: TankInUse, at: Date): void {
  world.rows.weighings.push({
    id: world.chance.uuid(),
    anodeId: tank.anodeId,
    at,
    massG: Math.round(tank.anodeMassG - tank.anodeLossG + world.chance.between(-6, 6)),
    errorG: 5,
    weighedById: world.people.benchId,
  });
}

function mix(world: Omit<World, "tanks">, tank: ExampleTank, volumeL: number, at: Date): BathInUse {
  const grade = tank.bicarbonate ? "BAKING_SODA" : "SODA_ASH_LIGHT";
  const dose = tank.bicarbonate ? DOSE_G_PER_L.bicarbonate : DOSE_G_PER_L.carbonate;
  const saltG = Math.round(volumeL * dose);
  const anhydrousG = anhydrousMass(grade, grams(saltG));
  const bath: BathInUse = {
    id: world.chance.uuid(),
    tankId: tank.tank.id,
    mixedAt: at,
    volumeL: Math.round(volumeL),
    carbonateG: tank.bicarbonate ? 0 : anhydrousG,
    bicarbonateG: tank.bicarbonate ? anhydrousG : 0,
    temperatureC: 18,
    chargeAh: 0,
  };
  world.rows.baths.push(bath);
  world.stockroom.use({
    name: tank.bicarbonate ? ITEM_NAMES.bakingSoda : ITEM_NAMES.sodaAsh,
    quantity: saltG,
    at,
    note: `bath mixed in ${tank.tank.name}`,
    enteredById: world.people.benchId,
    tankId: tank.tank.id,
  });
  return bath;
}
