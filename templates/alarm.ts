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
  /** A signed link at which "I have it" is pressed, without sign-in; it goes before the case link. */
  readonly haveLink?: string | undefined;
  /** Where it waits for whoever opens the pages; in the tray when it is not known whose message it is. */
  readonly place?: 'bench' | 'tray' | undefined;
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
    ...(alarm.haveLink ? [] : [said.press[alarm.place ?? 'bench']]),
    ...(alarm.toldBefore > 0 ? [said.again(alarm.toldBefore + 1)] : []),
  ];
  const blocks: Block[] = [
    subject,
    ...sentences,
    ...(alarm.haveLink ? [{ link: alarm.haveLink, words: said.have }] : []),
    alarm.caseLink ? { link: alarm.caseLink, words: said.open } : said.where[alarm.place ?? 'bench'],
  ];
  const where = alarm.haveLink
    ? `${said.have}: ${alarm.haveLink}`
    : (alarm.caseLink ?? said.where[alarm.place ?? 'bench']);
  return {
    text: foldText([`${subject}.`, ...sentences, where].join(' ')),
    email: { subject, text: asPlainText(blocks), html: asHtml(blocks, alarm.locale, subject) },
  };
}

export type TrayAlarm = {
  readonly locale: Locale;
  readonly shopName: string;
  /** How many messages have waited for two open hours. */
  readonly waiting: number;
  readonly link: string | undefined;
};

/** What a person on call is told, once, when messages in the tray are not looked at. */
export function trayAlarmWords(alarm: TrayAlarm): AlarmWords {
  const said = SENTENCES[alarm.locale];
  const subject = `${said.look} ${foldName(alarm.shopName)}`;
  const waited = said.waited(alarm.waiting);
  const blocks: Block[] = [waited, ...(alarm.link ? [{ link: alarm.link, words: said.openTray }] : [])];
  return {
    text: foldText([`${subject}.`, waited, ...(alarm.link ? [alarm.link] : [])].join(' ')),
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
    press: { bench: 'Press "I have it" on the case.', tray: 'Whose message it is, is not known yet.' },
    have: 'Press "I have it"',
    again: (times: number) => `Told ${times} times now.`,
    open: 'Open the case',
    where: { bench: 'It is at the top of the bench.', tray: 'It is in the tray.' },
    look: 'PLEASE LOOK:',
    waited: (waiting: number) =>
      waiting === 1
        ? 'A message has waited in the tray for 2 open hours.'
        : `${waiting} messages have waited in the tray for 2 open hours.`,
    openTray: 'Open the tray',
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
    press: { bench: 'Pulse "Lo tengo" en el caso.', tray: 'No sabemos aún de quién es.' },
    have: 'Pulse "Lo tengo"',
    again: (times: number) => `Van ${times} avisos.`,
    open: 'Abrir el caso',
    where: { bench: 'Es el primero de la mesa.', tray: 'Está en la bandeja.' },
    look: 'MIRE, POR FAVOR:',
    waited: (waiting: number) =>
      waiting === 1
        ? 'Un mensaje lleva 2 horas de trabajo en la bandeja.'
        : `${waiting} mensajes llevan 2 horas de trabajo en la bandeja.`,
    openTray: 'Abrir la bandeja',
  },
} as const;
