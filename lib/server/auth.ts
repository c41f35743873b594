import type { NextAuthOptions } from "next-auth";
import CredentialsProvider from "next-auth/providers/credentials";
import {
  findCredentials,
  inTransaction,
  insertSession,
  passwordMatches,
  reading,
  recordAudit,
} from "@/lib/data";
import { isRefusal, Refusal } from "@/lib/errors";
import { environment } from "./environment";
import { countTry, forgetTries } from "./limits";
import { log } from "./log";

/** A browser stays signed in for this long, s. */
const SESSION_SECONDS = 30 * 24 * 3600;

export type Credentials = { readonly email: string; readonly password: string };
export type Caller = { readonly address: string; readonly userAgent: string };

/**
 * Checks an e-mail and password and opens a session. An unknown e-mail, a wrong password and a disabled person
 * get the same answer after the same time.
 *
 * @returns id of the session record
 * @throws Refusal not-signed-in | too-many-tries
 */
export async function openSession(
  credentials: Credentials,
  caller: Caller,
  now: Date,
): Promise<string> {
  const email = credentials.email.trim().toLowerCase();
  const who = `${email}|${caller.address}`;
  await countTry("sign-in", who);
  const person = await reading((db) => findCredentials(db, email));
  const right = await passwordMatches(person?.passwordHash ?? null, credentials.password);
  if (!person || !right || person.disabledAt) {
    throw new Refusal("not-signed-in", "That e-mail address and password do not go together here.");
  }
  await forgetTries("sign-in", who);
  return inTransaction(async (db) => {
    const sessionId = await insertSession(db, {
      personId: person.id,
      createdAt: now,
      expiresAt: new Date(now.getTime() + SESSION_SECONDS * 1000),
      userAgent: caller.userAgent.slice(0, 300),
    });
    await recordAudit(db, {
      actor: { personId: person.id },
      at: now,
      action: "person.signed-in",
      subjectType: "person",
      subjectId: person.id,
    });
    return sessionId;
  });
}

type Headers = Readonly<Record<string, string | string[] | undefined>> | undefined;

function header(headers: Headers, name: string): string {
  const value = headers?.[name];
  return (Array.isArray(value) ? value[0] : value) ?? "";
}

/** next-auth's settings: a password opens a session record, and the token carries nothing but its id. */
export function authOptions(): NextAuthOptions {
  return {
    secret: environment().secret,
    session: { strategy: "jwt", maxAge: SESSION_SECONDS },
    pages: { signIn: "/sign-in", error: "/sign-in" },
    providers: [
      CredentialsProvider({
        name: "password",
        credentials: { email: { type: "email" }, password: { type: "password" } },
        authorize: async (credentials, request) => {
          const given = { email: credentials?.email ?? "", password: credentials?.password ?? "" };
          const caller = {
            address: header(request.headers, "x-forwarded-for").split(",")[0]?.trim() ?? "",
            userAgent: header(request.headers, "user-agent"),
          };
          try {
            return { id: await openSession(given, caller, new Date()) };
          } catch (error) {
            // next-auth shows an Error's message at the sign-in page: only refusals may get there.
            if (isRefusal(error)) throw new Error(error.message);
            log.error({ error }, "sign-in failed");
            throw new Error("Something went wrong here. Try again.");
          }
        },
      }),
    ],
    callbacks: {
      jwt: ({ token, user }) => ({ sub: user?.id ?? token.sub }),
      session: ({ session, token }) => ({ ...session, user: { name: token.sub ?? null } }),
    },
  };
}
