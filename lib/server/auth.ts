import type { NextAuthOptions } from "next-auth";
import type { JWT } from "next-auth/jwt";
import CredentialsProvider from "next-auth/providers/credentials";
import { z } from "zod";
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
import * as input from "./inputs";
import { countTry, forgetTries } from "./limits";
import { log } from "./log";

/** A browser stays signed in for this long, s. */
const SESSION_SECONDS = 30 * 24 * 3600;

export type Credentials = { readonly email: string; readonly password: string };

/** What can belong to somebody here; anything else is not worth a look at the database. */
const Plausible = z.object({ email: input.email, password: z.string().min(1).max(200) });

const wrong = (): Refusal =>
  new Refusal("not-signed-in", "That e-mail address and password do not go together here.");

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
  const plausible = Plausible.safeParse(credentials);
  if (!plausible.success) throw wrong();
  const { email, password } = plausible.data;
  const here = `${email}|${caller.address}`;
  await countTry("sign-in", here);
  await countTry("sign-in-anywhere", email);
  const person = await reading((db) => findCredentials(db, email));
  const right = await passwordMatches(person?.passwordHash ?? null, password);
  if (!person || !right || person.disabledAt) throw wrong();
  await forgetTries("sign-in", here);
  await forgetTries("sign-in-anywhere", email);
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
            // The last entry is the one that the nearest proxy, or this server itself, wrote.
            address: header(request.headers, "x-forwarded-for").split(",").at(-1)?.trim() ?? "",
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
      // next-auth names a user at sign-in only, whatever its types say.
      jwt: ({ token, user }: { token: JWT; user?: { id: string } }) => ({
        sub: user?.id ?? token.sub ?? "",
      }),
      session: ({ session, token }) => ({ ...session, user: { name: token.sub ?? null } }),
    },
  };
}
