import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatWhen, idFrom, load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { leaksPage } from "@/lib/services";
import {
  Empty,
  Form,
  MeasureField,
  Notice,
  Page,
  Pager,
  Section,
  SelectField,
  Submit,
  TextField,
  TextLink,
} from "@/app/ui";
import { reportLeakAction } from "./actions";
import { LeakCard, SEVERITY_WORDS } from "./leak-card";

export const metadata: Metadata = { title: "Leaks" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ page?: string | string[] }>;
};

export default async function LeaksScreen({ params, searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const tankId = idFrom((await params).id);
  const window = pageWindow((await searchParams).page);
  const page = await load(() => leaksPage(actor, tankId, window, new Date()));
  const works = may(actor, "work-runs");
  const keeps = may(actor, "keep-tanks");
  return (
    <Page title="Leaks" kicker={<TextLink href={`/tanks/${tankId}`}>{page.tank.name}</TextLink>}>
      {page.curing ? (
        <Notice tone="brass" title={`A patch sets until ${formatWhen(page.curing, shop)}`}>
          Until then neither bath nor load goes in, and the board shows the tank as held.
        </Notice>
      ) : null}
      {page.total === 0 ? <Empty>No leak of this tank is written down.</Empty> : null}
      <div className="space-y-4">
        {page.leaks.map((leak) => (
          <LeakCard key={leak.id} {...{ leak, page, shop, keeps, works }} />
        ))}
        <Pager
          page={window.page}
          pages={Math.ceil(page.total / window.take)}
          href={(number) => `/tanks/${tankId}/leaks?page=${number}`}
        />
      </div>
      {works ? <ReportForm tankId={tankId} /> : null}
    </Page>
  );
}

function ReportForm({ tankId }: { readonly tankId: string }) {
  return (
    <Section title="A leak was found" id="found">
      <Form action={reportLeakAction} label="Write a leak down" clearWhenDone>
        <input type="hidden" name="tankId" value={tankId} />
        <input type="hidden" name="leakId" value={randomUUID()} />
        <div className="grid gap-4 sm:grid-cols-2">
          <TextField
            name="place"
            label="Where"
            hint="“Seam by the drain”, “under the tap”."
            required
          />
          <MeasureField name="heightMm" label="Height above the floor" kind="length" />
          <SelectField
            name="severity"
            label="How much"
            options={Object.entries(SEVERITY_WORDS).map(([value, label]) => ({ value, label }))}
            required
          />
          <TextField name="note" label="Note" />
        </div>
        <Submit>Write it down</Submit>
      </Form>
    </Section>
  );
}
