import type { partById } from "@/lib/services";
import { Confirm, Form, Submit } from "@/app/ui";
import { handBackAction, takeBackAction } from "../actions";

type Part = Awaited<ReturnType<typeof partById>>;

const QUESTIONS: Readonly<Partial<Record<Part["state"], string>>> = {
  TAKEN_IN: "It goes back untreated. It can be taken up again.",
  PLANNED: "It goes back untreated. It can be taken up again.",
  REFUSED: "It goes back untreated. It can be taken up again.",
  FINISHED: "The customer has it. It can be taken up again.",
};

/** Giving one part back before the rest of its job, and taking it up again. */
export function Leaving({ part }: { readonly part: Part }) {
  const which = <input type="hidden" name="id" value={part.id} />;
  const question = QUESTIONS[part.state];
  const returns = part.state === "HANDED_BACK" || part.state === "FINISHED";
  return (
    <div className="grid items-start gap-4 sm:grid-cols-2">
      {question ? (
        <Confirm
          label="Hand this part back"
          question={question}
          action={handBackAction}
          confirm="Hand it back"
        >
          {which}
        </Confirm>
      ) : null}
      {returns ? (
        <Form action={takeBackAction} label="Take this part up again">
          {which}
          <Submit kind="plain">
            {part.state === "FINISHED" ? "Treat it again" : "It is here again"}
          </Submit>
        </Form>
      ) : null}
    </div>
  );
}
