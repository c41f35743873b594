import type { JobOwes } from "@/lib/services";
import { type MoneyCustoms, moneyText, Notice, TextLink } from "@/app/ui";

type Props = {
  readonly jobId: string;
  /** null for those who do not see money */
  readonly owes: JobOwes | null;
  readonly customs: MoneyCustoms;
};

/** Something is still owed, or belongs to the customer: said where parts leave, and never in the way. */
export function OwedNotice({ jobId, owes, customs }: Props) {
  if (!owes || owes.balanceMinor === 0) return null;
  const { balanceMinor, daysOverdue, charged } = owes;
  const amount = moneyText(Math.abs(balanceMinor), customs);
  const link = <TextLink href={`/jobs/${jobId}/money`}>The money of this job</TextLink>;
  if (balanceMinor > 0) {
    const overdue = daysOverdue > 0 ? `, ${daysOverdue} days overdue` : "";
    return (
      <Notice
        tone={daysOverdue > 0 ? "oxide" : "brass"}
        title={`${amount} is still owed${overdue}`}
      >
        {link}
      </Notice>
    );
  }
  return (
    <Notice
      tone="zinc"
      title={
        charged ? `${amount} belongs to the customer` : `${amount} was paid ahead of the statement`
      }
    >
      {link}
    </Notice>
  );
}
