import { type Actor, requirePermission } from "@/lib/access";
import { reading } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { BoardLoad, LoadMove, Score } from "@/lib/scheduling";
import { inThread, Stopped } from "../threads/thread";
import type { BoardChange } from "./apply-board";
import type { Proof } from "./improve-in-thread";
import { boardNames, type BoardNames } from "./names";
import type { OpenDip } from "./problem";
import { type BoardWishes, wholeBoard, type WholeBoard } from "./whole-board";

/** How long a better board is looked for, ms. */
const SEARCH_MS = 2000;
/** Reading, planning for other tanks and starting a thread come on top. */
const MOST_MS = 60_000;

/** One line of a proposed board. */
export type ProposedChange = {
  /** moved: booked elsewhere before; joined: parts that waited go into it, moved or not; new: parts that waited */
  readonly kind: "MOVED" | "JOINED" | "NEW";
  /** of a booked run */
  readonly loadId: string;
  readonly from: LoadMove["from"];
  readonly to: BoardLoad;
  /** parts that go in anew */
  readonly parts: readonly { readonly id: string; readonly label: string }[];
};

export type BoardProposal = Proof & {
  readonly before: Score;
  readonly after: Score;
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
    const { improved, ...proof } = found;
    const loads = new Map(improved.schedule.loads.map((load) => [load.id, load]));
    const changes = improved.moves.flatMap((move) => {
      const to = loads.get(move.loadId);
      return to ? [proposedChange(move, to, dips)] : [];
    });
    return {
      ...proof,
      before: improved.before,
      after: improved.score,
      changes: changes.sort((a, b) => a.to.startsAtMs - b.to.startsAtMs),
      leftOver: improved.schedule.unplaced.map((id) => labelOf(dips.get(id))),
      apply: changes.flatMap((change) => changesFor(change, dips, whole)),
      names: boardNames(shop),
      tries: improved.tries,
    };
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
    throw new Refusal("conflict", "The search took too long. Try again with fewer parts.");
  }
}

type Dips = ReadonlyMap<string, OpenDip>;

const labelOf = (dip: OpenDip | undefined): string =>
  dip ? `${dip.part.job.number}-${dip.part.mark} ${dip.part.description}` : "";

function proposedChange(move: LoadMove, to: BoardLoad, dips: Dips): ProposedChange {
  const { loadId, from, joinedDipIds } = move;
  const anew = from ? joinedDipIds : to.dipIds;
  const parts = anew.flatMap((id) => {
    const dip = dips.get(id);
    return dip ? [{ id: dip.part.id, label: labelOf(dip) }] : [];
  });
  const kind = !from ? "NEW" : joinedDipIds.length > 0 ? "JOINED" : "MOVED";
  return { kind, loadId, from, to, parts };
}

/** What has to be written: a load that others join is moved first. */
function changesFor(change: ProposedChange, dips: Dips, { shop }: WholeBoard): BoardChange[] {
  const { kind, loadId, from, to } = change;
  const { tankId } = to;
  const startsAt = new Date(to.startsAtMs);
  if (kind === "NEW") {
    // The second end of a part is booked once the first stands: it goes in as any other part does.
    const partIds = to.dipIds.flatMap((id) => dips.get(id)?.part.id ?? []);
    const idempotencyKey = `board:${shop.now.getTime()}:${to.dipIds.join(",")}`;
    return [{ kind: "book", partIds, tankId, startsAt, idempotencyKey }];
  }
  const sequence = shop.runs.find(({ id }) => id === loadId)?.sequence ?? 0;
  const isMoved = from?.tankId !== tankId || from.startsAtMs !== to.startsAtMs;
  const partIds = change.parts.map(({ id }) => id);
  return [
    ...(isMoved ? [{ kind: "move" as const, runId: loadId, tankId, startsAt, sequence }] : []),
    ...(partIds.length > 0 ? [{ kind: "join" as const, runId: loadId, partIds }] : []),
  ];
}
