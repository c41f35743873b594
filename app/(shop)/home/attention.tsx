import { formatDay } from "@/lib/server";
import { said } from "@/lib/units";
import { shownQuantity } from "../stock/quantity";
import { type Line, Lines } from "./lines";
import type { HomeProps } from "./props";

/** What is not as it should be: each line leads to where it is put right. */
export function Attention(props: HomeProps) {
  const lines = [
    ...findings(props),
    ...tanks(props),
    ...anodes(props),
    ...stock(props),
    ...quotes(props),
  ];
  return (
    <Lines
      title="Needs attention"
      id="attention"
      lines={lines}
      empty="Nothing: readings, anodes and stock are as they should be."
    />
  );
}

function findings({ home, shop }: HomeProps): Line[] {
  return home.running.flatMap(({ run, progress, view }) =>
    progress.findings.map((finding) => ({
      key: `${run.id} ${finding.code}`,
      href: `/runs/${run.id}`,
      tone: finding.severity === "look now" ? ("oxide" as const) : ("brass" as const),
      title: `${view.tank.name}: ${finding.title}`,
      detail: said(finding.seen, shop.unitSystem),
    })),
  );
}

function tanks({ home }: HomeProps): Line[] {
  return home.tanks
    .filter(({ lacks }) => lacks.length > 0)
    .map(({ tank, lacks, next }) => ({
      key: tank.id,
      href: `/tanks/${tank.id}`,
      tone: next ? "oxide" : "zinc",
      title: `${tank.name} is not ready: ${lacks.join(", ")}`,
      detail: next ? "A load is booked for it." : undefined,
    }));
}

function anodes({ home }: HomeProps): Line[] {
  return home.tanks.flatMap(({ tank, anodes: inTank }) =>
    inTank
      .filter(({ state }) => state !== "sound")
      .map(({ anode, gone, state }) => ({
        key: anode.id,
        href: `/tanks/${tank.id}#anodes`,
        tone: state === "replace" ? ("oxide" as const) : ("brass" as const),
        title:
          state === "replace"
            ? `Replace the anode of ${tank.name}`
            : `Look at the anode of ${tank.name}`,
        detail: `${anode.name}: ${gone.value.toFixed(0)} % gone, to be replaced at ${(100 * anode.replaceAtShare).toFixed(0)} %.`,
      })),
  );
}

function stock({ home, shop }: HomeProps): Line[] {
  return home.low.map(({ item, onHand, advice }) => ({
    key: item.id,
    href: `/stock/${item.id}`,
    tone: advice.state === "OUT" ? "oxide" : "brass",
    title: advice.state === "OUT" ? `${item.name} is out` : `${item.name} runs low`,
    detail: `${shownQuantity(onHand, item.unit, shop.unitSystem)} on hand.`,
  }));
}

function quotes({ home, shop }: HomeProps): Line[] {
  return home.lapsed.map((quote) => ({
    key: quote.quoteId,
    href: `/jobs/${quote.jobId}/quote`,
    tone: "zinc",
    title: `Quote ${quote.quoteNumber} for ${quote.customerName} ran out`,
    detail: `It was good until ${formatDay(quote.validUntil, shop)}. Ask, or offer anew.`,
  }));
}
