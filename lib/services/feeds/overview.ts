import { type Actor, may, requirePermission } from "@/lib/access";
import { type FeedKind, type FeedRow, listFeeds, listTanks, reading } from "@/lib/data";

/** A calendar address as its list shows it; the address itself is not kept. */
export type ShownFeed = {
  readonly id: string;
  readonly kind: FeedKind;
  readonly name: string;
  /** TANK only */
  readonly tankName: string | null;
  /** PERSON only: also what nobody has taken on */
  readonly includesUnassigned: boolean;
  readonly personName: string;
  readonly createdAt: Date;
  /** when a program last asked for it, to the minute or so; null before the first time */
  readonly lastReadAt: Date | null;
};

export type FeedOverview = {
  readonly own: readonly ShownFeed[];
  /** those of everybody else; empty for people who may not manage people */
  readonly others: readonly ShownFeed[];
  /** tanks that an address can be made for */
  readonly tanks: readonly { readonly id: string; readonly name: string }[];
};

/** The calendar addresses that work, one's own apart from those of others. @throws Refusal not-allowed */
export async function feedOverview(actor: Actor): Promise<FeedOverview> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { personId } = actor;
    const feeds = await listFeeds(db, may(actor, "manage-people") ? {} : { personId });
    const tanks = await listTanks(db);
    return {
      own: feeds.filter((feed) => feed.personId === personId).map(shown),
      others: feeds.filter((feed) => feed.personId !== personId).map(shown),
      tanks: tanks.map(({ id, name }) => ({ id, name })),
    };
  });
}

const shown = ({ id, kind, name, tank, person, ...feed }: FeedRow): ShownFeed => ({
  id,
  kind,
  name,
  tankName: tank?.name ?? null,
  includesUnassigned: feed.includesUnassigned,
  personName: person.name,
  createdAt: feed.createdAt,
  lastReadAt: feed.lastReadAt,
});
