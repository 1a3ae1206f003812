/**
 * A cell's text without what cannot be seen: direction marks, zero-width spaces, soft hyphens and byte order marks go,
 * every kind of space becomes one plain space, and full-width signs become plain ones (Unicode NFKC).
 */
export function bareText(text: string): string {
  return text
    .normalize('NFKC')
    .replace(/[\u00ad\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/g, '')
    .replace(/\s+/g, ' ')
    .trim();
}
