import { Confirm, Form, Submit } from "@/app/ui";
import { cancelAction, closeAction, reopenAction, takeBackAction } from "../actions";

type Props = { readonly orderId: string };

export function CancelForm({ orderId }: Props) {
  return (
    <Confirm
      label="Cancel this order"
      question="Nothing of it is expected any more. It stays among what was cancelled, and can be made a draft again."
      action={cancelAction}
      confirm="Cancel it"
    >
      <input type="hidden" name="orderId" value={orderId} />
    </Confirm>
  );
}

export function CloseForm({ orderId }: Props) {
  return (
    <Confirm
      label="The rest will not come"
      question="The order is closed with what came. This cannot be taken back."
      action={closeAction}
      confirm="Close it"
    >
      <input type="hidden" name="orderId" value={orderId} />
    </Confirm>
  );
}

export function TakeBackForm({ orderId }: Props) {
  return (
    <Form action={takeBackAction} label="Take “ordered” back">
      <input type="hidden" name="orderId" value={orderId} />
      <Submit kind="plain">It was not ordered after all</Submit>
    </Form>
  );
}

export function ReopenForm({ orderId }: Props) {
  return (
    <Form action={reopenAction} label="Begin again">
      <input type="hidden" name="orderId" value={orderId} />
      <Submit kind="plain">Make it a draft again</Submit>
    </Form>
  );
}
