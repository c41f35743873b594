import Link from "next/link";
import type { customerList } from "@/lib/services";
import { Notice } from "@/app/ui";
import { SearchForm } from "../../search-form";

type Props = {
  readonly search: string;
  /** null until something was looked for */
  readonly found: Awaited<ReturnType<typeof customerList>> | null;
};

/** Finds a customer; each match is one step from taking the job in, told apart by address where names are alike. */
export function KnownCustomers({ search, found }: Props) {
  return (
    <div className="space-y-4">
      <SearchForm
        action="/jobs/new"
        label="Name, e-mail or telephone"
        value={search}
        focused={found === null}
      />
      {found?.total === 0 ? (
        <Notice tone="zinc" title={`Nobody matches “${search}”. Take the name in below.`} />
      ) : null}
      {found && found.total > 0 ? (
        <ul aria-label="Customers found" className="divide-y divide-line border-y border-line">
          {found.rows.map(({ id, name, email, phone }) => (
            <li key={id}>
              <Link
                href={`/jobs/new?customer=${id}`}
                className="flex min-h-12 flex-wrap items-center justify-between gap-x-4 py-2 hover:bg-bath-wash"
              >
                <span className="font-semibold text-bath underline underline-offset-3">{name}</span>
                <span className="text-sm text-zinc">
                  {[phone, email].filter(Boolean).join(", ")}
                </span>
              </Link>
            </li>
          ))}
        </ul>
      ) : null}
      {found && found.pages > 1 ? (
        <p className="text-sm text-zinc">
          The first {found.rows.length} of {found.total} are listed; type more of the name.
        </p>
      ) : null}
    </div>
  );
}
