/** How long the models take: one operating point, the plan of one part among five tanks, one look at other settings. */
import { operatingBand } from "@/lib/electrolysis";
import { outlook, planPart, plannedSettings, startWhatIf } from "@/lib/treatment";
import { box, tub, workshop } from "@/lib/treatment/fixtures";

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
