import { linkPlace, placesIn, withLinks } from '../channels/linkPlaces.ts';
import { LINK_DAYS, type LinkPurpose, newToken, type TokenKey, tokenHash } from '../channels/tokens.ts';
import { keepLinks, type NewLink } from '../store/links.ts';
import type { Shell } from './shell.ts';

/** How long a link is good. A stop link does not run out in the life of a pair. Common practice, no source. */
const DAYS: Readonly<Record<LinkPurpose, number>> = {
  answer: LINK_DAYS,
  tips: 90,
  stop: 3650,
  measure: LINK_DAYS,
  have: 2,
};

/** The place of a link in a letter that is being written; undefined where the shop has no public address. */
export function linkTo(
  shell: Pick<Shell, 'links'>,
  shopId: string,
  purpose: LinkPurpose,
): string | undefined {
  const maker = shell.links?.(shopId);
  return maker && linkPlace(maker.base, purpose);
}

type Words = { readonly body: string; readonly html: string | null };

/** Makes the links that a letter has places for, on the point of sending it. */
export function linksIn(
  shell: Shell,
  shopId: string,
  subjectId: string,
  letter: Words,
  now: Date,
): Promise<ReadonlyMap<LinkPurpose, string>> {
  return mintLinks(shell, shopId, subjectId, placesOf(letter), now);
}

export const placesOf = (letter: Words): readonly LinkPurpose[] =>
  placesIn(`${letter.body}\n${letter.html ?? ''}`);

/** The letter as it leaves, with its links in place. */
export const spoken = <Letter extends Words>(
  letter: Letter,
  links: ReadonlyMap<LinkPurpose, string>,
): Letter => ({
  ...letter,
  body: withLinks(letter.body, links),
  html: letter.html === null ? null : withLinks(letter.html, links),
});

/** Makes links and keeps their hashes, before the carrier has the message. */
export async function mintLinks(
  shell: Shell,
  shopId: string,
  subjectId: string,
  purposes: readonly LinkPurpose[],
  now: Date,
): Promise<ReadonlyMap<LinkPurpose, string>> {
  const key = shell.links?.(shopId)?.key;
  if (key === undefined || purposes.length === 0) return new Map();
  const { tokens, links } = newLinks(key, subjectId, purposes, now);
  await keepLinks(shell.db, shopId, links);
  return tokens;
}

/** Tokens, and what is to be kept of them before anybody has them. */
export function newLinks(
  key: TokenKey,
  subjectId: string,
  purposes: readonly LinkPurpose[],
  now: Date,
): { readonly tokens: ReadonlyMap<LinkPurpose, string>; readonly links: readonly NewLink[] } {
  const tokens = new Map(purposes.map((purpose) => [purpose, newToken(purpose, key)]));
  const links = [...tokens].map(([purpose, token]) => ({
    token_hash: tokenHash(token),
    purpose,
    subject_id: subjectId,
    expires_at: new Date(now.getTime() + DAYS[purpose] * 86_400_000),
  }));
  return { tokens, links };
}
