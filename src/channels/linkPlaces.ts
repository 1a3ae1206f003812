import { LINK_PURPOSES, type LinkPurpose, TOKEN_LENGTH } from './tokens.ts';

/** Where every link of a wearer, and of who is on call, begins. */
export const LINK_PATH = '/w/';

/** Answered with 204 by this program and nothing else that may stand at the address. */
export const HERE_PATH = `${LINK_PATH}here`;

/**
 * The place of a link in words that are on record: the address with the purpose where the token will stand, of the same
 * length, so that parts are counted right. The token itself is made when the message leaves and is nowhere on record.
 */
export const linkPlace = (base: string, purpose: LinkPurpose): string =>
  `${base}${LINK_PATH}${purpose.padEnd(TOKEN_LENGTH, '-')}`;

/** The purposes for which words have a place, each once. */
export const placesIn = (words: string): readonly LinkPurpose[] =>
  LINK_PURPOSES.filter((purpose) => words.includes(placeOf(purpose)));

/** Words with the links in their places; a place for which there is no token goes, with its address. */
export function withLinks(words: string, tokens: ReadonlyMap<LinkPurpose, string>): string {
  return LINK_PURPOSES.reduce((said, purpose) => {
    const token = tokens.get(purpose);
    if (token !== undefined) return said.replaceAll(placeOf(purpose), `${LINK_PATH}${token}`);
    return said.includes(placeOf(purpose)) ? said.replace(addressOf(purpose), '') : said;
  }, words);
}

/** Words on record as somebody in the shop reads them: a link of their own is told, its address says nothing. */
export const linksTold = (words: string): string =>
  LINK_PURPOSES.reduce(
    (said, purpose) =>
      said.replace(addressOf(purpose), (found) => `${TOLD[purpose]}${found.endsWith(' ') ? ' ' : ''}`),
    words,
  );

const TOLD: Readonly<Record<LinkPurpose, string>> = {
  answer: '[their link to answer]',
  tips: '[their link to first steps]',
  stop: '[their link to stop]',
  measure: '[their link to measure]',
  have: '[link to “I have it”]',
};

/** Words without what differs from one sending to the next, for asking a carrier whether it has them. */
export const withoutTokens = (words: string): string =>
  words.replace(new RegExp(`${LINK_PATH}[a-z2-7-]{${TOKEN_LENGTH}}`, 'g'), LINK_PATH);

const placeOf = (purpose: LinkPurpose): string => `${LINK_PATH}${purpose.padEnd(TOKEN_LENGTH, '-')}`;
const addressOf = (purpose: LinkPurpose): RegExp =>
  new RegExp(`https?://[^\\s"<>]*?${placeOf(purpose)} ?`, 'g');
