import type { Channel, OutgoingMessage } from './channel.ts';

export type DeliveredRow = {
  readonly attemptId: string;
  readonly channel: 'text' | 'email';
  readonly to: string;
  readonly subject: string | null;
  readonly text: string;
  readonly html: string | null;
};

/** Where the pretend handsets and the pretend mailbox keep what was sent to them. */
export type RehearsalStore = {
  /** Keeps the row once per attempt; a repeat changes nothing. Gives the id of the kept row. */
  putDelivered(row: DeliveredRow): Promise<string>;
  findByAttempt(attemptId: string): Promise<{ readonly id: string } | undefined>;
};

/** The pretend carrier of the invented shop: what is sent goes into the shop's own tables and never leaves the machine. */
export function rehearsalChannel(kind: 'text' | 'email', store: RehearsalStore): Channel {
  return {
    name: `rehearsal ${kind}`,
    kind,
    async send(message: OutgoingMessage) {
      const farId = await store.putDelivered({
        attemptId: message.attemptId,
        channel: kind,
        to: message.to,
        subject: message.subject ?? null,
        text: message.text,
        html: message.html ?? null,
      });
      return { state: 'accepted', farId };
    },
    async find(attemptId) {
      return (await store.findByAttempt(attemptId)) ? 'accepted' : 'not there';
    },
  };
}
