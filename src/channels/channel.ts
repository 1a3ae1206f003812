/** What a carrier is handed. `to` is an E.164 number or an email address; `attemptId` is the key that makes it one. */
export type OutgoingMessage = {
  readonly attemptId: string;
  readonly to: string;
  readonly subject?: string;
  readonly text: string;
  readonly html?: string;
  /** Headers of an email, by name as it is to be written. A text has none. */
  readonly headers?: Readonly<Record<string, string>>;
};

/**
 * What is done about a refusal: `stop` record that the wearer has opted out; `bad address` mark the address, tell staff,
 * use the other channel; `later` try again a few times; `other channel` do not repeat here; `hold all` the shop's own
 * set-up is at fault, so every message of this channel waits and staff are told; `tell staff` a person looks.
 */
export type RefusalAct = 'stop' | 'bad address' | 'later' | 'other channel' | 'hold all' | 'tell staff';

export type SendResult =
  | { readonly state: 'accepted'; readonly farId: string }
  | { readonly state: 'refused'; readonly code: string; readonly why: string; readonly act: RefusalAct }
  /** The request went out and no answer came back: the message may or may not be on its way. Never simply repeated. */
  | { readonly state: 'unsure'; readonly why: string };

/** What the carrier says about an attempt when it is asked. `unknown`: it cannot tell, or cannot be reached. */
export type Found = 'accepted' | 'unknown' | 'not there';

/** A way to reach a wearer. Every carrier, real or pretend, stands behind this and nothing else. */
export type Channel = {
  readonly name: string;
  readonly kind: 'text' | 'email';
  send(message: OutgoingMessage): Promise<SendResult>;
  find(attemptId: string): Promise<Found>;
};
