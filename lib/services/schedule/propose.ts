import { type Actor, requirePermission } from "@/lib/access";
import { reading } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { BoardLoad, LoadChange, Score } from "@/lib/scheduling";
import { inThread, Stopped } from "../threads/thread";
import type { BoardChange } from "./apply-board";
import { boardNames, type BoardNames } from "./names";
import type { OpenDip } from "./problem";
import { type BoardWishes, wholeBoard, type WholeBoard } from "./whole-board";

/** How long a better board is looked for, ms. */
const SEARCH_MS = 2000;
/** Reading, planning for other tanks and starting a thread come on top. */
const MOST_MS = 60_000;

/** One line of a proposed board. */
export type ProposedChange = {
  readonly kind: LoadChange["kind"];
  /** of a booked run */
  readonly loadId: string;
  readonly from: Pick<BoardLoad, "tankId" | "startsAtMs" | "endsAtMs"> | null;
  readonly to: Pick<BoardLoad, "tankId" | "startsAtMs" | "endsAtMs">;
  /** parts that go in anew */
  readonly parts: readonly { readonly id: string; readonly label: string }[];
};

export type BoardProposal = {
  readonly before: Score;
  readonly after: Score;
  /** no board can be better than this, h */
  readonly bound: { readonly weightedTardinessH: number; readonly makespanH: number };
  /** what was proven of the board that is proposed */
  readonly proven: "OPTIMAL" | "NOT_PROVEN";
  readonly changes: readonly ProposedChange[];
  /** parts that find no place, in words */
  readonly leftOver: readonly string[];
  /** what to apply */
  readonly apply: readonly BoardChange[];
  readonly names: BoardNames;
  readonly tries: number;
};

/**
 * Looks for a better board and says what it would move. Nothing is changed: `applyBoard` does that, if nobody was faster.
 *
 * @throws Refusal not-allowed | conflict where the search took too long
 */
export async function proposeBoard(
  actor: Actor,
  wishes: BoardWishes,
  now: Date,
): Promise<BoardProposal> {
  requirePermission(actor, "book");
  const whole = await reading((db) => wholeBoard(db, wishes, now));
  const { shop, problem } = whole;
  try {
    const found = await inThread(
      "improve",
      { problem, tanks: shop.tanks, budgetMs: SEARCH_MS, seed: 1 },
      { mostMs: MOST_MS },
    );
    const dips = new Map(problem.dips.map((dip) => [dip.id, dip]));
    const { improvement, ...proof } = found;
    return {
      ...proof,
      before: improvement.before,
      after: improvement.score,
      changes: improvement.changes.map((change) => proposedChange(change, dips)),
      leftOver: improvement.schedule.unplaced.map((id) => labelOf(dips.get(id))),
      apply: improvement.changes.flatMap((change) => changesFor(change, dips, whole)),
      names: boardNames(shop),
      tries: improvement.tries,
    };
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
    throw new Refusal("conflict", "The search took too long. Try again with fewer parts.");
  }
}

type Dips = ReadonlyMap<string, OpenDip>;

const labelOf = (dip: OpenDip | undefined): string =>
  dip ? `${dip.part.job.number}-${dip.part.mark} ${dip.part.description}` : "";

function proposedChange(change: LoadChange, dips: Dips): ProposedChange {
  const { kind, loadId, from, to } = change;
  const anew = kind === "NEW" ? to.dipIds : change.joinedDipIds;
  const parts = anew.flatMap((id) => {
    const dip = dips.get(id);
    return dip ? [{ id: dip.part.id, label: labelOf(dip) }] : [];
  });
  return { kind, loadId, from, to, parts };
}

/** What has to be written: a load that others join is moved first. */
function changesFor(change: LoadChange, dips: Dips, { shop }: WholeBoard): BoardChange[] {
  const { kind, loadId, from, to } = change;
  const partIds = (ids: readonly string[]): string[] =>
    ids.flatMap((id) => dips.get(id)?.part.id ?? []);
  const { tankId } = to;
  const startsAt = new Date(to.startsAtMs);
  if (kind === "NEW") {
    const idempotencyKey = `board:${shop.now.getTime()}:${to.dipIds.join(",")}`;
    return [{ kind: "book", partIds: partIds(to.dipIds), tankId, startsAt, idempotencyKey }];
  }
  const sequence = shop.runs.find(({ id }) => id === loadId)?.sequence ?? 0;
  const isMoved = from?.tankId !== tankId || from.startsAtMs !== to.startsAtMs;
  const joining = partIds(change.joinedDipIds);
  return [
    ...(isMoved ? [{ kind: "move" as const, runId: loadId, tankId, startsAt, sequence }] : []),
    ...(joining.length > 0 ? [{ kind: "join" as const, runId: loadId, partIds: joining }] : []),
  ];
}
