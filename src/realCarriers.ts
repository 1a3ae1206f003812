import { type EmailChannel, emailChannel } from './channels/email.ts';
import { type TextChannel, textChannel } from './channels/text.ts';
import type { Clock } from './clock.ts';
import type { CarrierSettings } from './config.ts';
import type { MailAddresses, Shell, TextLine } from './followup/shell.ts';
import type { Db } from './store/database.ts';
import { attemptToSettle } from './store/messages.ts';
import type { Shop } from './store/shops.ts';

/** Of settings only what a stand-in on this machine needs beside them. */
export type CarrierTrial = { readonly textOrigin?: string; readonly onlyThisMachine?: boolean };

export type RealCarriers = Pick<Shell, 'carrier' | 'mail' | 'textLine'> & { close(): void };

/** The carriers that a shop's settings name. Whether they may be used yet is decided elsewhere (`readyToGoLive`). */
export function realCarriers(
  settings: CarrierSettings,
  db: Db,
  clock: Clock,
  shop: Pick<Shop, 'shop_id' | 'name'>,
  trial: CarrierTrial = {},
): RealCarriers {
  const { text, mail } = settings;
  const shopId = shop.shop_id;
  const texts: TextChannel | undefined =
    text &&
    textChannel(
      { ...text, origin: trial.textOrigin, onlyThisMachine: trial.onlyThisMachine },
      clock,
      async (attemptId) => {
        const attempt = await attemptToSettle(db, shopId, { attemptId, farId: '' });
        if (!attempt?.handed_over_at) return undefined;
        return { to: attempt.address, text: attempt.body, at: attempt.handed_over_at };
      },
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
    close: () => emails?.close(),
  };
}
