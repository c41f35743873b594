import { Form, Submit, TextField } from "@/app/ui";
import { setHoursAction } from "./actions";
import { clockText } from "./clock-text";
import { WEEKDAYS } from "./weekdays";

type Span = {
  readonly weekday: number;
  readonly opensMinute: number;
  readonly closesMinute: number;
};

/** One span a day; a day without times is closed. */
export function HoursForm({ hours }: { readonly hours: readonly Span[] }) {
  return (
    <Form action={setHoursAction} label="Opening hours">
      <p className="text-zinc">
        When somebody is there to load and pull. Leave both times empty where the shop is shut.
      </p>
      <div className="grid gap-x-8 gap-y-3 md:grid-cols-2">
        {WEEKDAYS.map((name, index) => {
          const span = hours.find(({ weekday }) => weekday === index + 1);
          return (
            <fieldset key={name} className="grid grid-cols-2 gap-3">
              <legend className="mb-1 font-semibold">{name}</legend>
              <TextField
                name={`opens${index + 1}`}
                label="opens"
                type="time"
                defaultValue={span ? clockText(span.opensMinute) : ""}
              />
              <TextField
                name={`closes${index + 1}`}
                label="closes"
                type="time"
                defaultValue={span ? clockText(span.closesMinute) : ""}
              />
            </fieldset>
          );
        })}
      </div>
      <Submit>Save the hours</Submit>
    </Form>
  );
}
