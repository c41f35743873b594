/** How long the models take: one operating point, the plan of one part among five tanks, one look at other settings. */
import { operatingBand } from "@/lib/electrolysis";
import {
  outlook,
  planPart,
  plannedSettings,
  startWhatIf,
  type PartDescription,
  type TankOption,
} from "@/lib/treatment";

const tub: TankOption = {
  id: "tub",
  name: "Tub",
  shape: {
    kind: "TAPERED_BOX",
    topLengthMm: 800,
    topWidthMm: 520,
    bottomLengthMm: 720,
    bottomWidthMm: 440,
    depthMm: 420,
  },
  workingLevelMm: 360,
  clearanceMm: 50,
  anode: { areaM2: 0.42, lossFactor: 0.17 },
  bath: { carbonateG: 300, bicarbonateG: 40, volumeL: 120 },
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.8,
    innerResistanceOhm: 0.12,
    ratedCurrentA: 20,
    dutyFactor: 0.8,
  },
  supplyEfficiency: 0.72,
  leadLengthM: 2,
  leadAreaMm2: 6,
  contactOhm: 0.02,
};
const box: PartDescription = {
  quantity: 1,
  shape: "BOX",
  lengthMm: 420,
  widthMm: 200,
  heightMm: 180,
  wallMm: 1.2,
  massG: 3100,
  areaOverrideM2: null,
  material: "MILD_STEEL",
  hardnessHrc: null,
  tensileMpa: null,
  rustGrade: "C",
  coatings: ["OIL_PAINT"],
  hazards: [],
  goal: "STRIP_TO_METAL",
};
const workshop = { temperatureC: 18, roomVolumeM3: 60, saltGrade: "SODA_ASH_LIGHT" } as const;
const tanks = Array.from({ length: 5 }, (_, index) => ({ ...tub, id: `tub ${index}` }));

function measure(name: string, aim: string, times: number, work: () => void): void {
  for (let index = 0; index < times / 10; index += 1) work();
  const begun = performance.now();
  for (let index = 0; index < times; index += 1) work();
  const each = (performance.now() - begun) / times;
  const told = each < 0.1 ? `${(each * 1000).toFixed(1)} µs` : `${each.toFixed(2)} ms`;
  console.log(`${name}: ${told} (aim ${aim})`);
}

const begun = startWhatIf(box, tub, workshop);
if (typeof begun === "string") throw new Error(begun);
const cell = {
  supply: begun.chosen.tank.supply,
  conductivitySPerM: 0.5,
  shapeLengthM: 0.6,
  partAreaM2: 0.3,
  anodeAreaM2: 0.42,
  leadOhm: 0.012,
  contactOhm: 0.02,
  dissolvingShare: 0.17,
};
measure("operating point, all three of its band", "≤ 20 µs each", 20_000, () =>
  operatingBand(cell),
);
measure("plan of one part, five tanks", "≤ 2 ms", 500, () =>
  planPart({ part: box, tanks, workshop }),
);
const settings = plannedSettings(begun);
measure("one look at other settings", "within a frame, 16 ms", 1000, () =>
  outlook(begun, settings),
);
