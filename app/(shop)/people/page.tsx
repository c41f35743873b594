import type { Metadata } from "next";
import { ROLE_NAMES } from "@/lib/access";
import { formatDate, requireActorWith, shopSettings } from "@/lib/server";
import { peopleOverview } from "@/lib/services";
import {
  Badge,
  Confirm,
  Empty,
  Form,
  FreshLink,
  Page,
  Section,
  SelectField,
  Submit,
  Table,
} from "@/app/ui";
import {
  changeRoleAction,
  disableAction,
  enableAction,
  inviteAnewAction,
  signOutEverywhereAction,
  withdrawAction,
} from "./actions";
import { InviteForm } from "./invite-form";
import { ROLE_OPTIONS } from "./roles";

export const metadata: Metadata = { title: "People" };

export default async function PeoplePage() {
  const actor = await requireActorWith("manage-people");
  const shop = await shopSettings();
  const { people, invites } = await peopleOverview(actor, new Date());
  return (
    <Page title="People">
      <Section title="Who works here" id="people">
        <ul className="grid gap-4 lg:grid-cols-2">
          {people.map((person) => (
            <li key={person.id} className="plate space-y-3 p-4">
              <div className="flex flex-wrap items-baseline justify-between gap-2">
                <div>
                  <h3 className="text-lg font-semibold">{person.name}</h3>
                  <p className="break-all text-zinc">{person.email}</p>
                </div>
                {person.disabledAt ? (
                  <Badge tone="zinc">kept out</Badge>
                ) : (
                  <Badge tone="ink">{ROLE_NAMES[person.role]}</Badge>
                )}
              </div>
              <PersonActions
                person={{ id: person.id, name: person.name, role: person.role }}
                disabled={person.disabledAt !== null}
                signedIn={person.liveSessions > 0}
                self={person.id === actor.personId}
              />
            </li>
          ))}
        </ul>
      </Section>
      <Section title="Invitations" id="invitations">
        {invites.length === 0 ? (
          <Empty>Nobody is invited at the moment.</Empty>
        ) : (
          <Table
            caption="Open invitations"
            rows={invites}
            rowKey={(invite) => invite.id}
            columns={[
              {
                head: "Who",
                cell: (invite) => (
                  <>
                    {invite.name}
                    <span className="block wrap-anywhere text-zinc">{invite.email}</span>
                  </>
                ),
              },
              { head: "Role", cell: (invite) => ROLE_NAMES[invite.role], wideOnly: true },
              { head: "Until", cell: (invite) => formatDate(invite.expiresAt, shop) },
              {
                head: <span className="sr-only">Withdraw</span>,
                cell: (invite) => (
                  <Form action={withdrawAction} label={`Withdraw the invitation of ${invite.name}`}>
                    <input type="hidden" name="id" value={invite.id} />
                    <Submit kind="plain">Withdraw</Submit>
                  </Form>
                ),
              },
            ]}
          />
        )}
      </Section>
      <Section title="Invite somebody" id="invite" plate>
        <InviteForm />
      </Section>
    </Page>
  );
}

type PersonActionsProps = {
  readonly person: { readonly id: string; readonly name: string; readonly role: string };
  readonly disabled: boolean;
  readonly signedIn: boolean;
  readonly self: boolean;
};

function PersonActions({ person, disabled, signedIn, self }: PersonActionsProps) {
  const whom = <input type="hidden" name="id" value={person.id} />;
  if (disabled) {
    return (
      <Form action={enableAction} label={`Let ${person.name} in again`}>
        {whom}
        <Submit kind="plain">Let in again</Submit>
      </Form>
    );
  }
  return (
    <>
      <Form
        action={changeRoleAction}
        label={`Role of ${person.name}`}
        className="flex flex-wrap items-end gap-2"
      >
        {whom}
        <SelectField
          name="role"
          label="Role"
          required
          options={ROLE_OPTIONS}
          defaultValue={person.role}
          className="min-w-40 flex-1"
        />
        <Submit kind="plain">Change</Submit>
      </Form>
      {signedIn && !self ? (
        <Form action={signOutEverywhereAction} label={`Sign ${person.name} out everywhere`}>
          {whom}
          <Submit kind="plain">Sign out everywhere</Submit>
        </Form>
      ) : null}
      {self ? null : (
        <>
          <Form action={inviteAnewAction} label={`New password for ${person.name}`}>
            {whom}
            <Submit kind="plain">Make a link for a new password</Submit>
            <FreshLink>
              {`The link for ${person.name}. It works once, for seven days, and is shown only now.`}
            </FreshLink>
          </Form>
          <Confirm
            label="Keep out"
            question={`${person.name} is signed out at once and cannot sign in again until you let them in.`}
            action={disableAction}
            confirm="Keep out"
          >
            {whom}
          </Confirm>
        </>
      )}
    </>
  );
}
