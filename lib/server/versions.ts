/** Answers that are sent again only when they changed (RFC 9110, section 13). */

/** What tells one version of an answer from the next. */
export type Version = {
  /** the same for the same bytes, without quotes */
  readonly tag: string;
  /** no change since; null where that is not known */
  readonly lastModified: Date | null;
};

/** The headers that say which version an answer is. Dates are whole seconds in HTTP: rounded up, so that none is missed. */
export function versionHeaders({ tag, lastModified }: Version): Record<string, string> {
  return {
    etag: `"${tag}"`,
    ...(lastModified ? { "last-modified": httpTime(lastModified) } : {}),
  };
}

const httpTime = (at: Date): string =>
  new Date(Math.ceil(at.getTime() / 1000) * 1000).toUTCString();

/**
 * Whether the caller has this version already, so that 304 says it all. If-None-Match goes before If-Modified-Since
 * (RFC 9110 13.2.2); tags are compared weakly (8.8.3.2), since a proxy that compresses marks them as weak.
 *
 * @param asked headers of the request
 * @example hasVersion(request.headers, { tag: "x1", lastModified: null }) // true for If-None-Match: "x1"
 */
export function hasVersion(asked: Headers, { tag, lastModified }: Version): boolean {
  const tags = asked.get("if-none-match");
  if (tags !== null) {
    return tags.trim() === "*" || tagsIn(tags).includes(tag);
  }
  const since = Date.parse(asked.get("if-modified-since") ?? "");
  if (Number.isNaN(since) || lastModified === null) return false;
  return lastModified.getTime() <= since;
}

/** The tags of a list, without quotes and marks of weakness. */
const tagsIn = (list: string): string[] =>
  [...list.matchAll(/(?:W\/)?"([^"]*)"/g)].map(([, tag]) => tag ?? "");
