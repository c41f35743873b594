import type { Metadata } from "next";
import { requireActor } from "@/lib/server";
import { customerList } from "@/lib/services";
import { Empty, LinkButton, Page, Pager, Table, TextLink } from "@/app/ui";
import { SearchForm } from "../search-form";

export const metadata: Metadata = { title: "Customers" };

type Search = { readonly searchParams: Promise<{ q?: string; page?: string }> };

export default async function CustomersPage({ searchParams }: Search) {
  const actor = await requireActor();
  const { q = "", page = "1" } = await searchParams;
  const list = await customerList(actor, { search: q, page: Number(page) });
  return (
    <Page
      title="Customers"
      actions={
        <LinkButton href="/customers/new" kind="main">
          New customer
        </LinkButton>
      }
    >
      <SearchForm action="/customers" label="Name, e-mail or telephone" value={q} />
      {list.rows.length === 0 ? (
        <Empty action={<LinkButton href="/customers/new">New customer</LinkButton>}>
          {q
            ? `Nobody matches “${q}”.`
            : "No customers yet. They also come in with their first job."}
        </Empty>
      ) : (
        <div>
          <Table
            caption="Customers"
            rows={list.rows}
            rowKey={(row) => row.id}
            columns={[
              {
                head: "Name",
                cell: (row) => <TextLink href={`/customers/${row.id}`}>{row.name}</TextLink>,
              },
              { head: "E-mail", cell: (row) => row.email, wideOnly: true },
              { head: "Telephone", cell: (row) => row.phone, wideOnly: true },
              { head: "Open jobs", numeric: true, cell: (row) => row.openJobs },
              { head: "All jobs", numeric: true, cell: (row) => row.jobs },
            ]}
          />
          <Pager
            page={list.page}
            pages={list.pages}
            href={(to) => `/customers?q=${encodeURIComponent(q)}&page=${to}`}
          />
        </div>
      )}
    </Page>
  );
}
