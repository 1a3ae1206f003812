import { asHtml, asPlainText } from './emailBody.ts';
import { foldName, foldText } from './foldText.ts';
import type { Block, Locale } from './types.ts';

export type Alarm = {
  readonly locale: Locale;
  readonly shopName: string;
  /** The first letter of the wearer's name and nothing else of them: not their name, not their words. */
  readonly initial: string;
  /** The case; undefined where the shop has no address that the person on call can open. */
  readonly caseLink: string | undefined;
  /** Whether the wearer has had the caution. `not known`: the carrier has not said yet. */
  readonly caution: 'arrived' | 'not arrived' | 'not known';
  /** How often it was told before; from the second time on the message says so. */
  readonly toldBefore: number;
  /** A rehearsal of the alarm itself. */
  readonly test?: boolean | undefined;
};

export type AlarmWords = {
  readonly text: string;
  readonly email: { readonly subject: string; readonly text: string; readonly html: string };
};

/** What a person on call is told when a wearer names a danger sign: to ring, whom, and whether the wearer was warned. */
export function alarmWords(alarm: Alarm): AlarmWords {
  const said = SENTENCES[alarm.locale];
  const shop = foldName(alarm.shopName);
  const subject = [...(alarm.test ? [said.test] : []), `${said.ringNow} ${alarm.initial}.`, shop].join(' ');
  const sentences = [
    said.sign,
    said.caution[alarm.caution],
    said.press,
    ...(alarm.toldBefore > 0 ? [said.again(alarm.toldBefore + 1)] : []),
  ];
  const blocks: Block[] = [
    subject,
    ...sentences,
    alarm.caseLink ? { link: alarm.caseLink, words: said.open } : said.bench,
  ];
  return {
    text: foldText([`${subject}.`, ...sentences, alarm.caseLink ?? said.bench].join(' ')),
    email: { subject, text: asPlainText(blocks), html: asHtml(blocks, alarm.locale, subject) },
  };
}

const SENTENCES = {
  en: {
    test: 'TEST, nobody is in danger:',
    ringNow: 'RING NOW:',
    sign: 'They wrote of a danger sign.',
    caution: {
      arrived: 'They have had the caution.',
      'not arrived': 'They have NOT had the caution.',
      'not known': 'We do not know yet if they have had the caution.',
    },
    press: 'Press "I have it" on the case.',
    again: (times: number) => `Told ${times} times now.`,
    open: 'Open the case',
    bench: 'It is at the top of the bench.',
  },
  es: {
    test: 'PRUEBA, nadie corre peligro:',
    ringNow: 'LLAME YA:',
    sign: 'Escribe de una señal de peligro.',
    caution: {
      arrived: 'Ya tiene el aviso.',
      'not arrived': 'NO tiene el aviso.',
      'not known': 'No sabemos aún si tiene el aviso.',
    },
    press: 'Pulse "Lo tengo" en el caso.',
    again: (times: number) => `Van ${times} avisos.`,
    open: 'Abrir el caso',
    bench: 'Es el primero de la mesa.',
  },
} as const;
