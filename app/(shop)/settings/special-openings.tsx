import { formatDay } from "@/lib/server";
import { Empty, Form, Submit, TextField } from "@/app/ui";
import { endSpecialOpeningAction, openSpeciallyAction } from "./actions";
import { clockText } from "./clock-text";

type SpecialOpeningsProps = {
  readonly openings: readonly {
    readonly id: string;
    readonly day: Date;
    readonly opensMinute: number;
    readonly closesMinute: number;
    readonly reason: string;
  }[];
  readonly place: Parameters<typeof formatDay>[1];
};

/** Days with hours of their own: an open Saturday, an early end before a holiday. */
export function SpecialOpenings({ openings, place }: SpecialOpeningsProps) {
  return (
    <>
      {openings.length === 0 ? (
        <Empty>No day ahead has hours of its own.</Empty>
      ) : (
        <ul className="plate divide-y divide-line">
          {openings.map(({ id, day, opensMinute, closesMinute, reason }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-3 p-3">
              <span>
                {formatDay(day, place)}, {clockText(opensMinute)} to {clockText(closesMinute)}{" "}
                {reason ? <span className="text-zinc">{reason}</span> : null}
              </span>
              <Form
                action={endSpecialOpeningAction}
                label={`Usual hours on ${formatDay(day, place)}`}
              >
                <input type="hidden" name="id" value={id} />
                <Submit kind="plain">Usual hours again</Submit>
              </Form>
            </li>
          ))}
        </ul>
      )}
      <Form
        action={openSpeciallyAction}
        label="Other hours on a day"
        clearWhenDone
        className="mt-4 grid items-end gap-4 sm:grid-cols-4"
      >
        <TextField name="day" label="Day" type="date" required />
        <TextField name="opens" label="opens" type="time" required />
        <TextField name="closes" label="closes" type="time" required />
        <TextField name="reason" label="Why" />
        <Submit kind="plain">Set these hours</Submit>
      </Form>
    </>
  );
}
