import type { Channel } from '../channels/channel.ts';
import type { Clock } from '../clock.ts';
import type { Log } from '../log.ts';
import type { Db } from '../store/database.ts';
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
};
