import clsx from "clsx";
import type { Metadata } from "next";
import Link from "next/link";
import { may } from "@/lib/access";
import { requireActor, shopSettings } from "@/lib/server";
import { jobList, type JobQuery } from "@/lib/services";
import { Empty, LinkButton, Page } from "@/app/ui";
import { SearchForm } from "../search-form";
import { JobTable } from "./job-table";

export const metadata: Metadata = { title: "Jobs" };

const FILTERS: readonly { readonly which: JobQuery["which"]; readonly label: string }[] = [
  { which: "open", label: "Open" },
  { which: "due", label: "Due within two days" },
  { which: "all", label: "All" },
];

type Search = { readonly searchParams: Promise<{ which?: string; q?: string; page?: string }> };

export default async function JobsPage({ searchParams }: Search) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const { which: asked, q = "", page = "1" } = await searchParams;
  const which = FILTERS.find((filter) => filter.which === asked)?.which ?? "open";
  const list = await jobList(actor, { which, search: q, page: Number(page) }, new Date());
  const takeIn = (
    <LinkButton href="/jobs/new" kind="main">
      Take in a job
    </LinkButton>
  );
  return (
    <Page title="Jobs" actions={may(actor, "take-in") ? takeIn : null}>
      <div className="flex flex-wrap items-end justify-between gap-4">
        <nav aria-label="Which jobs" className="flex flex-wrap border-b border-rim">
          {FILTERS.map((filter) => (
            <Link
              key={filter.which}
              href={`/jobs?which=${filter.which}`}
              aria-current={filter.which === which ? "page" : undefined}
              className={clsx(
                "-mb-px flex min-h-11 items-center border-b-4 px-3",
                filter.which === which ? "border-bath font-semibold" : "border-transparent",
              )}
            >
              {filter.label}
            </Link>
          ))}
        </nav>
        <SearchForm action="/jobs" label="Number, customer or part" value={q} keep={{ which }} />
      </div>
      {list.rows.length === 0 ? (
        <Empty action={may(actor, "take-in") ? takeIn : null}>
          {q ? `No job matches “${q}” here.` : "No job here. The next one comes over the counter."}
        </Empty>
      ) : (
        <JobTable
          list={list}
          shop={shop}
          href={(to) => `/jobs?which=${which}&q=${encodeURIComponent(q)}&page=${to}`}
        />
      )}
    </Page>
  );
}
