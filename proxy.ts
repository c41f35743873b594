import { randomBytes } from "node:crypto";
import { type NextRequest, NextResponse } from "next/server";

/**
 * What a page may load and run: this shop's own files, and the inline scripts that carry this answer's nonce,
 * which Next puts on its own. Text that somebody typed can therefore never run, whatever becomes of its escaping.
 * Style attributes stay allowed: the tank drawings set theirs from measures. WebAssembly is what the field is solved by.
 *
 * @param nonce unguessable, new for each answer
 * @param isDevelopment React's development build evaluates strings to show where an error came from
 */
function contentPolicy(nonce: string, isDevelopment: boolean): string {
  const evaluation = isDevelopment ? " 'unsafe-eval'" : "";
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic' 'wasm-unsafe-eval'${evaluation}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' blob: data:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}

/** Gives every page its content policy: in the request, where Next reads the nonce, and in the answer. */
export function proxy(request: NextRequest): NextResponse {
  const nonce = randomBytes(16).toString("base64");
  const policy = contentPolicy(nonce, process.env.NODE_ENV === "development");
  const headers = new Headers(request.headers);
  headers.set("content-security-policy", policy);
  const response = NextResponse.next({ request: { headers } });
  response.headers.set("content-security-policy", policy);
  return response;
}

/** Pages only: the built files and the addresses under /api answer with no page. */
export const config = { matcher: "/((?!api/|_next/static/|icon.svg).*)" };
