import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { type Actor, may } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import { formatDate, formatWhen, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import {
  type AnodeWish,
  cuttingChoices,
  type CutView,
  proposeCut,
  type ProposedCut,
  seeCut,
} from "@/lib/services";
import { ANODE_WAY_WORDS, sectionText } from "@/lib/stock";
import { said } from "@/lib/units";
import {
  Badge,
  Confirm,
  Empty,
  Figure,
  Figures,
  Form,
  LinkButton,
  moneyText,
  Notice,
  Page,
  Section,
  Submit,
  TextLink,
} from "@/app/ui";
import { lengthWords } from "../../measures";
import { cutSteelAction, undoCutAction } from "./actions";
import { BarsDrawing } from "./bars-drawing";
import { wishFrom } from "./wish";
import { WishForm } from "./wish-form";

export const metadata: Metadata = { title: "Cut steel for an anode" };

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = {
  readonly searchParams: Promise<Readonly<Record<string, string | string[] | undefined>>>;
};

const one = (value: string | string[] | undefined): string | undefined =>
  typeof value === "string" ? value : undefined;

export default async function CuttingPage({ searchParams }: Props) {
  const actor = await requireActor();
  const [shop, query] = await Promise.all([shopSettings(), searchParams]);
  const choices = await load(() => cuttingChoices(actor));
  const wish = wishFrom(query);
  const plan = wish ? await planFor(actor, wish) : null;
  const cutId = one(query["cut"]);
  const made = cutId ? await load(() => seeCut(actor, idFrom(cutId))) : null;
  const keeps = may(actor, "keep-tanks");
  const waiting = choices.waiting.filter(({ id }) => id !== made?.id);
  return (
    <Page title="Cut steel for an anode" kicker={<TextLink href="/stock">Stock</TextLink>}>
      {made ? <MadeCut cut={made} shop={shop} keeps={keeps} isNew /> : null}
      {choices.steels.length === 0 || choices.tanks.length === 0 ? (
        <Empty>
          A cut is planned for a tank, from steel whose bars are described: open an anode steel
          under Stock that is counted by its length, and say under “Bars and offcuts” what it
          measures.
        </Empty>
      ) : (
        <WishForm choices={choices} wish={wish} tankId={one(query["tankId"])} />
      )}
      {typeof plan === "string" ? (
        <Notice tone="brass" title={said(plan, shop.unitSystem)} />
      ) : null}
      {plan && typeof plan !== "string" && wish ? (
        <PlannedCut plan={plan} shop={shop}>
          {keeps ? (
            <Form action={cutSteelAction} label="Cut it">
              <input type="hidden" name="wish" value={JSON.stringify(wish)} />
              <input
                type="hidden"
                name="bars"
                value={JSON.stringify(
                  (plan.answer.plan ?? []).map(({ barId, pieces }) => ({ barId, pieces })),
                )}
              />
              <input type="hidden" name="proof" value={plan.proof} />
              <input type="hidden" name="cutId" value={randomUUID()} />
              <p>
                Press it when it is sawn: the steel leaves stock, chips and scrap with it, and the
                offcuts lie on the rack.
              </p>
              <Submit>It is cut</Submit>
            </Form>
          ) : null}
        </PlannedCut>
      ) : null}
      {waiting.length > 0 ? (
        <Section title="Cut, not hung yet" id="waiting">
          <div className="space-y-6">
            {waiting.map((cut) => (
              <MadeCut key={cut.id} cut={cut} shop={shop} keeps={keeps} />
            ))}
          </div>
        </Section>
      ) : null}
    </Page>
  );
}

/** The plan, or in words why an address of earlier fits no more: the tank or the bars have changed since. */
async function planFor(actor: Actor, wish: AnodeWish): Promise<ProposedCut | string> {
  try {
    return await load(() => proposeCut(actor, wish));
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return error.message;
  }
}

type PlanProps = {
  readonly plan: ProposedCut;
  readonly shop: Shop;
  readonly children: React.ReactNode;
};

function PlannedCut({ plan, shop, children }: PlanProps) {
  const { pieces, section, tank, answer, proof, rack } = plan;
  const units = shop.unitSystem;
  const nameOf = (barId: string): string => {
    const own = rack.find(
      ({ lot, offcuts }) => lot.id === barId || offcuts.some(({ id }) => id === barId),
    );
    const kind = own?.lot.id === barId ? "whole bar" : "offcut";
    return own ? `${kind} of the delivery of ${formatDate(own.lot.receivedAt, shop)}` : kind;
  };
  return (
    <Section title={`For ${tank.name}: ${ANODE_WAY_WORDS[pieces.way]}`} id="plan">
      <p className="mb-3">
        {pieces.count} × {lengthWords(pieces.lengthMm, units)} of{" "}
        {said(sectionText(section), units)}; {lengthWords(pieces.wetMm, units)} of each under the
        level.
      </p>
      <Figures>
        <Figure worked={plan.mass} />
        <Figure worked={plan.area} />
      </Figures>
      {answer.plan ? (
        <div className="mt-4 space-y-4">
          <BarsDrawing bars={answer.plan} units={units} nameOf={nameOf} />
          <p className="text-zinc">
            Dark strokes are the saw, dashed is kept, low and solid is scrap. {proof}
          </p>
          {children}
        </div>
      ) : (
        <Notice tone="brass" title={proof}>
          Fewer or shorter pieces, another steel, or a delivery will do. Lengths that nobody has
          measured do not count: see{" "}
          <TextLink href={`/stock/${section.itemId}/steel`}>Bars and offcuts</TextLink>.
        </Notice>
      )}
    </Section>
  );
}

type MadeProps = {
  readonly cut: CutView;
  readonly shop: Shop;
  readonly keeps: boolean;
  readonly isNew?: boolean;
};

const STATE = {
  CUT: { tone: "brass", word: "waits to be hung" },
  HUNG: { tone: "bath", word: "hangs" },
  UNDONE: { tone: "zinc", word: "taken back" },
} as const;

function MadeCut({ cut, shop, keeps, isNew }: MadeProps) {
  const { tone, word } = STATE[cut.state];
  return (
    <article className="plate space-y-3 p-4" aria-label={`Cut for ${cut.tank.name}`}>
      <p className="flex flex-wrap items-center gap-3">
        <strong>
          {cut.count} × {lengthWords(cut.lengthMm, shop.unitSystem)} of {cut.item.name}
        </strong>
        <Badge tone={tone}>{word}</Badge>
      </p>
      <p>
        {ANODE_WAY_WORDS[cut.way]} for {cut.tank.name}, by {cut.cutBy.name},{" "}
        {formatWhen(cut.at, shop)}
        {cut.costMinor === null ? "" : `; ${moneyText(cut.costMinor, shop)} with chips and scrap`}.
      </p>
      {isNew ? <p>{cut.plan.proof}</p> : null}
      {keeps && cut.state === "CUT" ? (
        <div className="grid items-start gap-3 md:grid-cols-2">
          <LinkButton href={`/tanks/${cut.tankId}?cut=${cut.id}#anodes`} kind="main">
            Hang it in the tank
          </LinkButton>
          <Confirm
            label="It was not cut after all"
            question="The steel goes back into stock, and what it left is off the rack."
            action={undoCutAction}
            confirm="Take the cut back"
          >
            <input type="hidden" name="cutId" value={cut.id} />
          </Confirm>
        </div>
      ) : null}
    </article>
  );
}
