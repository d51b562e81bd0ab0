/** The address that a link of an invitation opens in this browser. */
export const invitationLink = (token: string, origin: string): string => `${origin}/join/${token}`;

/** The token in what somebody pasted: the whole link, or the token alone. Null when there is none. */
export function tokenIn(pasted: string): string | null {
  const text = pasted.trim();
  const found = /(?:^|\/join\/)([A-Za-z0-9_-]{16,200})\/?(?:[?#].*)?$/.exec(text);
  return found?.[1] ?? null;
}
