import { Refusal } from "@/lib/errors";

const SHORTEST = 10;

/** @throws Refusal invalid when the password is too short or says who its owner is */
export function checkNewPassword(password: string, email: string): void {
  const tooShort = password.length < SHORTEST;
  const isEmail = password.trim().toLowerCase() === email;
  const isOne = new Set(password).size < 4;
  if (!tooShort && !isEmail && !isOne) return;
  throw new Refusal("invalid", "Choose another password.", {
    password: tooShort
      ? `At least ${SHORTEST} characters: a few words are easy to keep in mind.`
      : "Not the e-mail address, and not one character over and over.",
  });
}
