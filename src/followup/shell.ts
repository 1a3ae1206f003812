import type { Channel } from '../channels/channel.ts';
import type { MailboxSettings } from '../channels/mailbox.ts';
import type { TextChannel } from '../channels/text.ts';
import type { TokenKey } from '../channels/tokens.ts';
import type { Clock } from '../clock.ts';
import type { Log } from '../log.ts';
import type { Db } from '../store/database.ts';
import type { DumpShelf } from '../store/dumpShelf.ts';
import type { Journal } from '../store/journal.ts';
import type { ChannelKind } from '../store/tables.ts';

/** What a use case is handed: the store, the time, the journal, the carriers. Nothing is reached for behind its back. */
export type Shell = {
  readonly db: Db;
  readonly clock: Clock;
  readonly journal: Journal;
  readonly log: Log;
  /** The shop's carrier for a kind of channel; undefined when it has none switched on. */
  carrier(shopId: string, kind: ChannelKind): Channel | undefined;
  /** Where people on call can open the pages: `https://shop.example`. Without it an alarm gives no link. */
  readonly pagesAt?: string | undefined;
  /** Where a shop's replies by email are read and its bounces come back to, and the key of its reply addresses. */
  readonly mail?: ((shopId: string) => MailAddresses | undefined) | undefined;
  /** What a shop's links are made with; undefined: it has no public address, and letters go without links. */
  readonly links?: ((shopId: string) => LinkMaker | undefined) | undefined;
  /** Where hourly copies of the embedded database lie; a server keeps its own. */
  readonly copies?: DumpShelf | undefined;
  /** A shop's real line for texts, in both directions. */
  readonly textLine?: ((shopId: string) => TextLine | undefined) | undefined;
};

export type TextLine = {
  readonly channel: Pick<TextChannel, 'newTexts' | 'statusOf' | 'pictureOf'>;
  readonly authToken: string;
  /** Where the carrier calls us; undefined: it is asked each minute. */
  readonly publicBase: string | undefined;
};

export type LinkMaker = {
  /** Where the pages behind links are reached: `https://shop.example`. */
  readonly base: string;
  readonly key: TokenKey;
};

export type MailAddresses = {
  readonly mailbox: string;
  readonly bounceMailbox: string;
  readonly key: TokenKey;
  /** Where replies are fetched from. */
  readonly inbox?: MailboxSettings | undefined;
};
