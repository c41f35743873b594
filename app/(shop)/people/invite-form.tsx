import { Form, FreshLink, SelectField, Submit, TextField } from "@/app/ui";
import { inviteAction } from "./actions";
import { ROLE_OPTIONS } from "./roles";

/** The link comes back in the form's answer: it is shown once, to copy and send. */
export function InviteForm() {
  return (
    <Form action={inviteAction} label="Invite somebody" clearWhenDone>
      <div className="grid gap-4 sm:grid-cols-3">
        <TextField name="name" label="Name" required />
        <TextField name="email" label="E-mail" type="email" required />
        <SelectField
          name="role"
          label="Role"
          options={ROLE_OPTIONS}
          defaultValue="BENCH"
          required
        />
      </div>
      <Submit>Make an invitation</Submit>
      <FreshLink>
        The link to send. It works once, for seven days, and <strong>is shown only now</strong>.
      </FreshLink>
    </Form>
  );
}
