import { type EmailChannel, emailChannel } from './channels/email.ts';
import {
  type HandedOver,
  type TextChannel,
  type TextSender,
  textChannel,
  textSender,
} from './channels/text.ts';
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

const ofTrial = (
  text: NonNullable<CarrierSettings['text']> & { readonly shop?: string },
  trial: CarrierTrial = {},
) => ({
  ...text,
  origin: trial.textOrigin,
  onlyThisMachine: trial.onlyThisMachine,
});

/**
 * The carriers of every shop that shares these settings: one sender, whose pace they keep together, and the name of each shop on
 * its own mails. Made when a shop is first asked for.
 */
export function carriersByShop(
  settings: CarrierSettings,
  handedOverOf: (shopId: string) => (attemptId: string) => Promise<HandedOver | undefined>,
  clock: Clock,
  trial: CarrierTrial | undefined,
  /** The shop that the process opened with: what comes back without a shop is its. */
  first: string,
) {
  const sender = settings.text && textSender(ofTrial(settings.text, trial));
  const made = new Map<string, RealCarriers>();
  return {
    of(shop: Pick<Shop, 'shop_id' | 'name'>): RealCarriers {
      const key = `${shop.shop_id}\n${shop.name}`;
      const known = made.get(key);
      if (known) return known;
      const { text } = settings;
      const named =
        text && shop.shop_id !== first ? { ...settings, text: { ...text, shop: shop.shop_id } } : settings;
      const one = realCarriers(named, handedOverOf(shop.shop_id), clock, shop, trial, sender);
      made.set(key, one);
      return one;
    },
    close() {
      for (const one of made.values()) one.close();
    },
  };
}

/** The carriers that a shop's settings name. Whether they may be used yet is decided elsewhere (`readyToGoLive`). */
export function realCarriers(
  settings: CarrierSettings,
  handedOver: (attemptId: string) => Promise<HandedOver | undefined>,
  clock: Clock,
  shop: Pick<Shop, 'name'>,
  trial: CarrierTrial = {},
  sender?: TextSender,
): RealCarriers {
  const { text, mail } = settings;
  const texts: TextChannel | undefined = text && textChannel(ofTrial(text, trial), clock, handedOver, sender);
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
