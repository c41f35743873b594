import {
  amperesPerSquareMetre,
  type Celsius,
  massPercent,
  type SiemensPerMetre,
  siemensPerMetre,
} from "@/lib/units";
import { conductivity, strengthForConductivity, strongestSolution } from "./conductivity";
import { ANODE, anodeBetween, type AnodeKinetics, CATHODE, overvoltage } from "./kinetics";
import { type Cell, checkCell, operatingBand, type OperatingBand } from "./operating-point";
import type { Salt } from "./salts";
import { CLOSED_FORM_ERROR_SHARE } from "./shape";
import { continuousRating, innerResistance, openVoltage } from "./supply";

/** Current density at the part, A/m², within which shops work: common practice, no source. */
export const PART_DENSITY = { least: 1, most: 50 } as const;

/** A tank with everything settled but its bath. */
export type CellWithoutBath = Omit<Cell, "conductivitySPerM">;

export type StrongestDose = {
  /** Mass % of anhydrous salt. */
  readonly strength: number;
  readonly conductivitySPerM: number;
  readonly limitedBy: "SUPPLY_RATING" | "PART_DENSITY" | "DISSOLVED_SALT";
  /** What the tank draws at this strength. */
  readonly band: OperatingBand;
  /** Whether the part gets at least `PART_DENSITY.least` even then. */
  readonly enough: boolean;
};

/**
 * The strongest bath that neither overloads the supply nor drives the part too hard. Stronger is not better.
 *
 * The supply is judged at the top of the band (active anode, large g), since an overload burns it; the part at
 * the middle. Each bound gives the bath's resistance at its current in closed form:
 *   1/(κ·g) = (V_open − E_rev − η_c − η_a)/I − R_inner − R_leads − R_contacts
 *
 * @param cell        the tank, its load and its supply
 * @param salt        what will be put in, alone
 * @param temperature °C, 0 to 50
 * @throws RangeError naming the figure that is out of range
 * @example strongestDose(cell, "SODIUM_BICARBONATE", celsius(20)).strength // mass %
 */
export function strongestDose(
  cell: CellWithoutBath,
  salt: Salt,
  temperature: Celsius,
): StrongestDose {
  checkCell({ ...cell, conductivitySPerM: 1 });
  const widening = 1 + (cell.shapeLengthErrorShare ?? CLOSED_FORM_ERROR_SHARE);
  const saturated = strongestSolution(salt, temperature);
  const bounds: readonly (readonly [StrongestDose["limitedBy"], number])[] = [
    ["DISSOLVED_SALT", conductivity(salt, saturated, temperature)],
    [
      "SUPPLY_RATING",
      conductivityAt(
        { ...cell, shapeLengthM: cell.shapeLengthM * widening },
        ANODE.ACTIVE,
        continuousRating(cell.supply),
      ),
    ],
    [
      "PART_DENSITY",
      conductivityAt(cell, anodeBetween(cell.dissolvingShare), PART_DENSITY.most * cell.partAreaM2),
    ],
  ];
  const [limitedBy, kappa] = bounds.reduce((least, next) => (next[1] < least[1] ? next : least));
  const strength =
    limitedBy === "DISSOLVED_SALT"
      ? saturated
      : strengthForConductivity(salt, siemensPerMetre(kappa), temperature);
  const band = operatingBand({ ...cell, conductivitySPerM: kappa });
  return {
    strength: massPercent(strength),
    conductivitySPerM: kappa,
    limitedBy,
    band,
    enough: band.mid.partDensityAPerM2 >= PART_DENSITY.least,
  };
}

/** κ at which the tank draws just `current`; Infinity if no bath, however strong, lets it draw so much. */
function conductivityAt(
  cell: CellWithoutBath,
  anode: AnodeKinetics,
  current: number,
): SiemensPerMetre {
  const terminal = openVoltage(cell.supply) - current * innerResistance(cell.supply);
  return conductivityCarrying(cell, anode, terminal, current);
}

/**
 * κ that leaves just so much current to a voltage at the supply's terminals: what neither the reactions nor leads and
 * clamps take falls in the bath.
 * @returns S/m; Infinity where they take it all
 */
export function conductivityCarrying(
  cell: CellWithoutBath,
  anode: AnodeKinetics,
  terminalVoltage: number,
  current: number,
): SiemensPerMetre {
  const left =
    terminalVoltage -
    anode.reversibleV -
    overvoltage(amperesPerSquareMetre(current / cell.partAreaM2), CATHODE) -
    overvoltage(amperesPerSquareMetre(current / cell.anodeAreaM2), anode);
  const bathOhm = left / current - cell.leadOhm - cell.contactOhm;
  return siemensPerMetre(
    bathOhm > 0 ? 1 / (bathOhm * cell.shapeLengthM) : Number.POSITIVE_INFINITY,
  );
}
