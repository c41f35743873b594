import { formatDay } from "@/lib/server";
import type { JobMoney } from "@/lib/services";
import { Facts, moneyText, Notice } from "@/app/ui";

/** Where the job stands, in one sentence, and the amounts behind it. */
export function Standing({ view }: { readonly view: JobMoney }) {
  const { accepted, balance, shop, depositDueMinor, open } = view;
  const text = (minor: number): string => moneyText(minor, shop);
  return (
    <>
      <StandingNotice view={view} />
      <Facts
        facts={[
          {
            label: "Accepted, tax included",
            value: accepted.quoteNumbers.length > 0 ? text(accepted.totalMinor) : "no quote yet",
          },
          {
            label: "Deposit asked",
            value:
              accepted.depositMinor > 0
                ? `${text(accepted.depositMinor)}${depositDueMinor > 0 ? `, ${text(depositDueMinor)} not paid yet` : ""}`
                : null,
          },
          {
            label: "Charged",
            value: open || balance.chargedMinor ? text(balance.chargedMinor) : "not yet",
          },
          { label: "Credited", value: balance.creditedMinor ? text(balance.creditedMinor) : null },
          { label: "Paid", value: text(balance.paidMinor) },
        ]}
      />
    </>
  );
}

function StandingNotice({ view }: { readonly view: JobMoney }) {
  const { balance, daysOverdue, open, shop, depositDueMinor } = view;
  const { balanceMinor, paidMinor } = balance;
  const text = (minor: number): string => moneyText(Math.abs(minor), shop);
  if (balanceMinor > 0 && open?.dueOn) {
    return daysOverdue > 0 ? (
      <Notice tone="oxide" title={`${text(balanceMinor)} is overdue by ${daysOverdue} days`}>
        It was to be paid by {formatDay(open.dueOn, shop)}.
      </Notice>
    ) : (
      <Notice tone="brass" title={`${text(balanceMinor)} is owed`}>
        To be paid by {formatDay(open.dueOn, shop)}.
      </Notice>
    );
  }
  if (open && balanceMinor === 0) return <Notice tone="bath" title="Paid in full" />;
  if (balanceMinor < 0 && view.documents.length > 0) {
    return (
      <Notice tone="brass" title={`${text(balanceMinor)} belongs to the customer`}>
        More was paid than is charged. Pay it back, or write a new statement.
      </Notice>
    );
  }
  if (depositDueMinor > 0) {
    return (
      <Notice tone="brass" title={`${text(depositDueMinor)} of the deposit is not paid yet`} />
    );
  }
  return (
    <Notice tone="zinc" title="Nothing is charged yet">
      {paidMinor > 0 ? `${text(paidMinor)} has come in ahead of the statement.` : null}
    </Notice>
  );
}
