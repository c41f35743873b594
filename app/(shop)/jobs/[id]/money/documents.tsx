import { formatDate, formatDay } from "@/lib/server";
import type { JobMoney, ShownDocument } from "@/lib/services";
import { Empty, LinkButton, type MoneyCustoms, moneyText } from "@/app/ui";

/** Every statement and credit note of the job, newest first, as it was written. */
export function Documents({ view }: { readonly view: JobMoney }) {
  const { documents, shop } = view;
  if (documents.length === 0) return <Empty>No statement has been written for this job yet.</Empty>;
  return (
    <ul className="space-y-4">
      {documents.map((document) => (
        <li key={document.id} className="plate p-4">
          <div className="flex flex-wrap items-start justify-between gap-3">
            <div>
              <h3 className="text-lg font-semibold">{documentName(document)}</h3>
              <p className="text-sm text-zinc">
                {formatDate(document.issuedAt, shop)}, {document.issuedBy}
                {document.dueOn ? `; to be paid by ${formatDay(document.dueOn, shop)}` : ""}
              </p>
              {document.reason ? <p>{document.reason}</p> : null}
              {document.kind === "STATEMENT" && document.leftMinor < document.totalMinor ? (
                <p>
                  {document.leftMinor === 0
                    ? "Credited whole."
                    : `${moneyText(document.leftMinor, shop)} of it stands; the rest is credited.`}
                </p>
              ) : null}
            </div>
            <LinkButton href={`/statements/${document.id}/pdf`} download>
              {documentName(document)}, PDF
            </LinkButton>
          </div>
          <DocumentLines document={document} customs={shop} />
        </li>
      ))}
    </ul>
  );
}

function documentName({ kind, number, ofNumber }: ShownDocument): string {
  return kind === "STATEMENT"
    ? `Statement ${number}`
    : `Credit note ${number}${ofNumber === null ? "" : ` of statement ${ofNumber}`}`;
}

type LinesProps = { readonly document: ShownDocument; readonly customs: MoneyCustoms };

function DocumentLines({ document, customs }: LinesProps) {
  const sign = document.kind === "STATEMENT" ? 1 : -1;
  const text = (minor: number): string => moneyText(sign * minor, customs);
  const rows = [
    ...document.lines.map((line) => ({
      key: `line ${line.position}`,
      label: line.label,
      minor: line.netMinor,
    })),
    ...document.taxes
      .filter(({ taxMinor }) => taxMinor !== 0)
      .map(({ code, name, percent, taxMinor }) => ({
        key: `tax ${code} ${name}`,
        label: `${name}, ${percent} %`,
        minor: taxMinor,
      })),
  ];
  return (
    <table className="mt-3 w-full text-left">
      <caption className="sr-only">Lines of {documentName(document)}</caption>
      <tbody className="divide-y divide-line">
        {rows.map(({ key, label, minor }) => (
          <tr key={key} className="align-top">
            <th scope="row" className="py-1.5 pr-3 font-normal break-words">
              {label}
            </th>
            <td className="py-1.5 text-right whitespace-nowrap">{text(minor)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot className="border-t-2 border-magnetite font-bold">
        <tr>
          <th scope="row" className="py-1.5">
            Total
          </th>
          <td className="py-1.5 text-right whitespace-nowrap">{text(document.totalMinor)}</td>
        </tr>
      </tfoot>
    </table>
  );
}
