/*
 * GET  /rehearsal            only in the invented shop
 * POST /rehearsal/clock      minutes   or   to = next-due
 * POST /rehearsal/reply      contact_id, text
 */
export type PretendMessage = {
  readonly direction: 'from the shop' | 'from the wearer';
  readonly when: string;
  /** Of a mail; empty for a text. */
  readonly subject: string;
  readonly body: string;
  readonly lang: 'en' | 'es';
};

export type Handset = {
  readonly contactId: string;
  /** The reserved number or address, written. */
  readonly address: string;
  /** Who uses it; two for a shared one. */
  readonly names: readonly string[];
  /** Local time of its wearer. */
  readonly localTime: string;
  /** Oldest first. */
  readonly messages: readonly PretendMessage[];
};

export type RehearsalView = {
  /** Two telephones. */
  readonly handsets: readonly Handset[];
  /** One mailbox, or null. */
  readonly mailbox: Handset | null;
  /** What is due next: "day 3 question to Ida Quill, Thu 10:00"; null when nothing is. */
  readonly nextDue: string | null;
  /** Other wearers whose handset may be taken in hand: address of this page with them. */
  readonly others: readonly { readonly words: string; readonly href: string }[];
};
