/** The server may answer with a whole address or a path; what is copied is always whole. */
export const absoluteLink = (link: string, origin: string): string => new URL(link, origin).href;

/** The token in what somebody pasted: the whole link, or the token alone. Null when there is none. */
export function tokenIn(pasted: string): string | null {
  const found = /(?:^|\/join\/)([A-Za-z0-9_-]{16,200})\/?(?:[?#].*)?$/.exec(pasted.trim());
  return found?.[1] ?? null;
}
