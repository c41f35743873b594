/** Secrets of private links: given out once, known again by their hash. */
import { createHash, randomBytes } from "node:crypto";

/** 256 bits from the system's generator: nobody guesses one. */
const TOKEN_BYTES = 32;

/** A link's secret, to be shown once, and the hash by which it is known again. */
export type SecretToken = { readonly token: string; readonly tokenHash: string };

export function newSecretToken(): SecretToken {
  const token = randomBytes(TOKEN_BYTES).toString("base64url");
  return { token, tokenHash: hashSecretToken(token) };
}

/** SHA-256 of the token; a plain hash does, as a random secret of 256 bits cannot be found by trying. */
export function hashSecretToken(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}
