import clsx from "clsx";
import Link from "next/link";
import type { ReactNode } from "react";

export type Tone = "ink" | "bath" | "oxide" | "brass" | "zinc";

const TONE_CLASS: Readonly<Record<Tone, string>> = {
  ink: "border-magnetite text-magnetite bg-sheet",
  bath: "border-bath text-bath bg-bath-wash",
  oxide: "border-oxide text-oxide bg-oxide-wash",
  brass: "border-brass text-brass bg-brass-wash",
  zinc: "border-rim text-zinc bg-zinc-wash",
};

/** A shape beside the word, so that colour is never the only sign. */
const TONE_MARK: Readonly<Record<Tone, string>> = {
  ink: "■",
  bath: "●",
  oxide: "▲",
  brass: "◆",
  zinc: "○",
};

/** A state in one or two words, with its shape. */
export function Badge({ tone, children }: { readonly tone: Tone; readonly children: ReactNode }) {
  return (
    <span
      className={clsx(
        "inline-flex items-center gap-1.5 rounded-full border px-2.5 py-0.5 text-sm font-semibold whitespace-nowrap",
        TONE_CLASS[tone],
      )}
    >
      <span aria-hidden="true" className="text-[0.7em]">
        {TONE_MARK[tone]}
      </span>
      {children}
    </span>
  );
}

type NoticeProps = {
  readonly tone: Tone;
  readonly title?: ReactNode;
  readonly children?: ReactNode;
};

/** Something to know before going on. */
export function Notice({ tone, title, children }: NoticeProps) {
  return (
    <div className={clsx("border-l-4 px-4 py-3", TONE_CLASS[tone])}>
      {title ? (
        <p className="font-semibold">
          <span aria-hidden="true">{TONE_MARK[tone]} </span>
          {title}
        </p>
      ) : null}
      {children ? <div className="text-magnetite">{children}</div> : null}
    </div>
  );
}

type EmptyProps = { readonly children: ReactNode; readonly action?: ReactNode };

/** Where a list would be, when there is nothing in it yet. */
export function Empty({ children, action }: EmptyProps) {
  return (
    <div className="rounded-[var(--radius-plate)] border border-dashed border-rim px-4 py-8 text-center">
      <p className="mx-auto max-w-prose text-zinc">{children}</p>
      {action ? <div className="mt-4">{action}</div> : null}
    </div>
  );
}

export type Fact = { readonly label: ReactNode; readonly value: ReactNode };

/** Names and values, two or three columns wide. Facts without a value are left out. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  const known = facts.filter(({ value }) => value !== null && value !== undefined && value !== "");
  return (
    <dl className="grid grid-cols-2 gap-x-6 gap-y-3 sm:grid-cols-3">
      {known.map(({ label, value }, index) => (
        <div key={index} className="min-w-0">
          <dt className="text-sm text-zinc">{label}</dt>
          <dd className="font-medium break-words">{value}</dd>
        </div>
      ))}
    </dl>
  );
}

export type Column<Row> = {
  readonly head: ReactNode;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers stand right. */
  readonly numeric?: boolean;
  /** Left out on a phone. */
  readonly wideOnly?: boolean;
};

type TableProps<Row> = {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
};

/** A table that scrolls sideways inside itself when it must, never the page. */
export function Table<Row>({ caption, columns, rows, rowKey }: TableProps<Row>) {
  const cellClass = (column: Column<Row>): string =>
    clsx("px-3 py-2", column.numeric && "text-right", column.wideOnly && "hidden sm:table-cell");
  return (
    <div
      className="plate overflow-x-auto"
      role="region"
      aria-label={caption}
      // A region that scrolls must be reachable by keyboard.
      tabIndex={0}
    >
      <table className="w-full text-left">
        <caption className="sr-only">{caption}</caption>
        <thead className="border-b border-line text-sm text-zinc">
          <tr>
            {columns.map((column, index) => (
              <th key={index} scope="col" className={clsx(cellClass(column), "font-medium")}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody className="divide-y divide-line">
          {rows.map((row) => (
            <tr key={rowKey(row)} className="align-top">
              {columns.map((column, index) => (
                <td key={index} className={cellClass(column)}>
                  {column.cell(row)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

type PagerProps = {
  readonly page: number;
  readonly pages: number;
  /** Address of a page. */
  readonly href: (page: number) => string;
};

/** Earlier and later pages of a list; nothing when there is one. */
export function Pager({ page, pages, href }: PagerProps) {
  if (pages <= 1) return null;
  return (
    <nav aria-label="Pages" className="mt-3 flex items-center gap-4">
      {page > 1 ? (
        <Link className="link py-2" href={href(page - 1)}>
          ← Previous
        </Link>
      ) : null}
      <span className="text-zinc">
        Page {page} of {pages}
      </span>
      {page < pages ? (
        <Link className="link py-2" href={href(page + 1)}>
          Next →
        </Link>
      ) : null}
    </nav>
  );
}

/** A link in running text. */
export function TextLink({
  href,
  children,
}: {
  readonly href: string;
  readonly children: ReactNode;
}) {
  return (
    <Link href={href} className="link">
      {children}
    </Link>
  );
}
