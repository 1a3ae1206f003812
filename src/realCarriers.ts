import { type EmailChannel, emailChannel } from './channels/email.ts';
import { type HandedOver, type TextChannel, textChannel } from './channels/text.ts';
import type { Clock } from './clock.ts';
import type { CarrierSettings } from './config.ts';
import type { MailAddresses, Shell, TextLine } from './followup/shell.ts';
import type { Shop } from './store/shops.ts';

/** Of settings only what a stand-in on this machine needs beside them. */
export type CarrierTrial = { readonly textOrigin?: string; readonly onlyThisMachine?: boolean };

export type RealCarriers = Pick<Shell, 'carrier' | 'mail' | 'textLine'> & {
  /** Signs in at the mail server and leaves again; undefined when all is well, else what is wrong. */
  verifyMail(): Promise<string | undefined>;
  close(): void;
};

/** The carriers that a shop's settings name. Whether they may be used yet is decided elsewhere (`readyToGoLive`). */
export function realCarriers(
  settings: CarrierSettings,
  handedOver: (attemptId: string) => Promise<HandedOver | undefined>,
  clock: Clock,
  shop: Pick<Shop, 'name'>,
  trial: CarrierTrial = {},
): RealCarriers {
  const { text, mail } = settings;
  const texts: TextChannel | undefined =
    text &&
    textChannel(
      { ...text, origin: trial.textOrigin, onlyThisMachine: trial.onlyThisMachine },
      clock,
      handedOver,
    );
  const emails: EmailChannel | undefined =
    mail &&
    emailChannel({
      ...mail,
      secure: mail.port === 465,
      fromName: shop.name,
      onlyThisMachine: trial.onlyThisMachine,
    });
  const line: TextLine | undefined = text &&
    texts && { channel: texts, authToken: text.authToken, publicBase: text.publicBase };
  const addresses: MailAddresses | undefined = mail && {
    mailbox: mail.mailbox,
    bounceMailbox: mail.bounceMailbox,
    key: { version: 1, secret: mail.secret },
    inbox: {
      ...mail.imap,
      secure: mail.imap.port === 993,
      mailbox: mail.mailbox,
      bounceMailbox: mail.bounceMailbox,
      onlyThisMachine: trial.onlyThisMachine,
    },
  };
  return {
    carrier: (_shop, kind) => (kind === 'text' ? texts : emails),
    mail: () => addresses,
    textLine: () => line,
    verifyMail: async () => emails?.verify(),
    close: () => emails?.close(),
  };
}
