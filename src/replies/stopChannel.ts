import type { Evidence, Reason } from './sorter.ts';

const TEXT_WORDS = new Set(
  'text texts texting sms whatsapp whatsapps textos texto textear texteen textee'.split(' '),
);
const EMAIL_WORDS = new Set('email emails emailing mail mails mailing correo correos'.split(' '));

/** The one channel that the words of a stop name; undefined when they name none or both: then everything stops. */
export function stopChannelOf(evidence: Evidence, held: readonly Reason[]): 'text' | 'email' | undefined {
  const { tokens } = evidence.board;
  const stops = held.filter((reason) => reason.label === 'stop');
  const named = new Set<'text' | 'email' | 'all'>();
  for (const reason of stops) {
    const words = reason.used.map((at) => tokens[at]!.word);
    const channel = words.some((word) => TEXT_WORDS.has(word))
      ? 'text'
      : words.some((word) => EMAIL_WORDS.has(word))
        ? 'email'
        : undefined;
    if (channel !== undefined) named.add(channel);
    else if (
      !/^=|^\^/u.test(reason.phrase) &&
      words.length > 1 &&
      /number|list|contact|messages|database|alone|hear/u.test(words.join(' '))
    )
      named.add('all');
  }
  if (named.size !== 1 || named.has('all')) return undefined;
  return named.has('text') ? 'text' : 'email';
}
