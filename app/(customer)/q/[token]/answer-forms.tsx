import type { CustomerOffer } from "@/lib/services";
import {
  CheckField,
  ChoiceGroup,
  Form,
  type MoneyCustoms,
  moneyText,
  Section,
  Submit,
  TextArea,
  TextField,
} from "@/app/ui";
import { acceptAction, askAction, declineAction } from "./actions";

type Props = {
  readonly token: string;
  readonly offer: CustomerOffer;
  readonly customs: MoneyCustoms;
};

/** Accept, decline or ask; once answered, only ask. */
export function AnswerForms({ token, offer, customs }: Props) {
  const hidden = (
    <>
      <input type="hidden" name="token" value={token} />
      <input type="hidden" name="versionId" value={offer.versionId} />
    </>
  );
  return (
    <Section title={offer.state === "SENT" ? "Your answer" : "A question?"} id="answer">
      <div className="space-y-3">
        {offer.state === "SENT" ? (
          <>
            <div className="plate p-4">
              <Form action={acceptAction} label="Accept the quote">
                {hidden}
                <Choice offer={offer} customs={customs} />
                <TextField
                  name="name"
                  label="Your name"
                  autoComplete="name"
                  hint="It is kept, with the time, as who accepted."
                  required
                />
                <Submit size="bench">{acceptWords(offer, customs)}</Submit>
              </Form>
            </div>
            <details className="plate">
              <summary className="flex min-h-12 items-center px-4 font-medium">
                No, thank you
              </summary>
              <div className="border-t border-line p-4">
                <Form action={declineAction} label="Decline the quote">
                  {hidden}
                  <TextField name="name" label="Your name" autoComplete="name" required />
                  <TextArea name="note" label="Why" hint="It helps us to do better." />
                  <Submit kind="danger">Decline</Submit>
                </Form>
              </div>
            </details>
          </>
        ) : null}
        <details className="plate">
          <summary className="flex min-h-12 items-center px-4 font-medium">
            Ask us something
          </summary>
          <div className="border-t border-line p-4">
            <Form action={askAction} label="Ask a question" clearWhenDone>
              <input type="hidden" name="token" value={token} />
              <TextField name="name" label="Your name" autoComplete="name" />
              <TextArea name="text" label="Your question" required />
              <Submit kind="plain">Send the question</Submit>
            </Form>
          </div>
        </details>
      </div>
    </Section>
  );
}

type ChoiceProps = Omit<Props, "token">;

/** Which of several is accepted; nothing is chosen beforehand, so that nobody accepts by oversight. */
function Choice({ offer, customs }: ChoiceProps) {
  if (offer.options.length < 2) return null;
  return (
    <ChoiceGroup legend="Which one?">
      {offer.options.map(({ id, name, totalMinor }) => (
        <CheckField
          key={id}
          type="radio"
          name="optionId"
          value={id}
          label={`${name}: ${moneyText(totalMinor, customs)} with tax`}
          required
        />
      ))}
    </ChoiceGroup>
  );
}

function acceptWords({ options }: CustomerOffer, customs: MoneyCustoms): string {
  const [first, ...more] = options;
  return first && more.length === 0
    ? `Accept for ${moneyText(first.totalMinor, customs)}`
    : "Accept the one chosen";
}
