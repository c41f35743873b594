import { z } from "zod";

const Environment = z.object({
  NEXTAUTH_SECRET: z.string().min(32, "at least 32 random characters"),
  NEXTAUTH_URL: z.url("the address that people open, such as https://shop.example.org"),
  /** read by the worker; here it only counts whether there is one */
  MAIL_URL: z.string().optional(),
});

/** `publicUrl` ends without a slash, so that a path can follow. */
export type ServerEnvironment = {
  readonly secret: string;
  readonly publicUrl: string;
  readonly mailIsSetUp: boolean;
};

let read: ServerEnvironment | undefined;

/**
 * What the web server needs from its environment, checked on first use. `npm start` sets both.
 *
 * @throws Error naming the variable and what was expected
 */
export function environment(): ServerEnvironment {
  read ??= readEnvironment(process.env);
  return read;
}

export function readEnvironment(
  variables: Readonly<Record<string, string | undefined>>,
): ServerEnvironment {
  const result = Environment.safeParse(variables);
  if (result.success) {
    const { NEXTAUTH_SECRET: secret, NEXTAUTH_URL: address, MAIL_URL: mail } = result.data;
    return { secret, publicUrl: address.replace(/\/+$/, ""), mailIsSetUp: Boolean(mail) };
  }
  const lines = result.error.issues.map(
    (issue) => `${String(issue.path[0])}: expected ${issue.message}`,
  );
  throw new Error(lines.join("\n"));
}
