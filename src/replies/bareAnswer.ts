import type { Token } from './normalise.ts';
import type { AskedQuestion, BareAnswer } from './types.ts';

const DIGITS: ReadonlyMap<string, string> = new Map(
  [
    ['1', 'one', 'uno', 'una', 'wan', 'first', 'primero'],
    ['2', 'two', 'dos', 'twa', 'second', 'segundo'],
    ['3', 'three', 'tres', 'third'],
    ['4', 'four', 'cuatro', 'fourth'],
    ['5', 'five', 'cinco', 'fifth'],
  ].flatMap(([digit, ...words]) => [digit, ...words].map((word) => [word!, digit!] as const)),
);
const YES = new Set(
  'yes y yep yeah yup aye sure si thumbsup correct affirmative definitely claro ok okay'.split(' '),
);
const NO = new Set('no n nope nah naw thumbsdown never negative nay'.split(' '));
/** Words that may stand before a bare answer: "number 3", "it's a 2 I think", "option b please". */
const LEADS = new Set(
  'number num no option answer choice its it is a an the i would say id say am im be think at hi hello hey ok oh well so for es el la un una opcion numero la soy digo seria probably maybe about my reply mine reckon put me down as sorry please definitely'.split(
    ' ',
  ),
);
const TRAILS = new Set(
  'please thanks thank you ta cheers i think for me mate now today so far sorry x xx really lol gracias por favor then love me'.split(
    ' ',
  ),
);

/**
 * The tap answer that a reply gives to the newest question, or undefined. An answer may be led in ("it's a 2") and
 * may be followed by a stop and more words ("3 - the floor"); "2 weeks in" is no answer.
 */
export function bareAnswerOf(
  tokens: readonly Token[],
  asked: AskedQuestion | undefined,
): BareAnswer | undefined {
  if (asked === undefined || tokens.length === 0) return undefined;
  const keyOf = keyReader(asked);
  const questionId = asked.kind === 'check-in' ? 'check-in' : asked.id;
  if (asked.kind === 'choices') {
    const said = tokens.map((token) => token.word).join(' ');
    const same = asked.answers.find((one) => plain(one.words) === said);
    if (same !== undefined) return { questionId, answer: same.key };
  }
  for (let at = 0; at < Math.min(tokens.length, 6); at += 1) {
    const token = tokens[at]!;
    const answer = keyOf(token.word);
    if (answer !== undefined && endsHere(tokens, at) && !namesArticle(token, tokens, at))
      return { questionId, answer };
    if (!LEADS.has(token.word)) return undefined;
  }
  return undefined;
}

function keyReader(asked: AskedQuestion): (word: string) => string | undefined {
  switch (asked.kind) {
    case 'check-in':
      return (word) => DIGITS.get(word);
    case 'yes-no':
      return (word) => (YES.has(word) ? 'yes' : NO.has(word) ? 'no' : undefined);
    case 'choices': {
      const keys = new Set(asked.answers.map((one) => one.key.toLowerCase()));
      return (word) => (keys.has(word) ? word : undefined);
    }
  }
}

/** "a" as the answer, not the article before a noun. */
function namesArticle(token: Token, tokens: readonly Token[], at: number): boolean {
  return (
    token.word === 'a' &&
    tokens[at + 1] !== undefined &&
    tokens[at + 1]!.clause === token.clause &&
    !TRAILS.has(tokens[at + 1]!.word)
  );
}

function endsHere(tokens: readonly Token[], at: number): boolean {
  const { clause } = tokens[at]!;
  for (let i = at + 1; i < tokens.length && tokens[i]!.clause === clause; i += 1)
    if (!TRAILS.has(tokens[i]!.word)) return false;
  return true;
}

function plain(words: string): string {
  return words
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}
