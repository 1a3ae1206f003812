/*
 * GET  /shop
 * POST /shop/try            tries address, sender and mailbox; POST /shop/consent-words ticks the words
 * POST /shop    one field per entry of `sections`, by its name; section = the section's id
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type SettingField = {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly kind: 'text' | 'number' | 'tel' | 'email' | 'time' | 'choice' | 'lines' | 'tick';
  readonly choices: readonly { readonly value: string; readonly words: string }[];
};

export type ShopView = {
  /** Ticks before going live. */
  readonly before: readonly { readonly words: string; readonly done: boolean; readonly href: string }[];
  /** The words in which staff ask for consent, with the shop's name. */
  readonly consentWords: string;
  /** True when every tick is done. */
  readonly mayGoLive: boolean;
  readonly sections: readonly {
    readonly id: string;
    readonly heading: string;
    /** One sentence on what it is for. */
    readonly says: string;
    readonly fields: readonly SettingField[];
  }[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
  /** The ways that messages take, with how each stands: "text: rehearsal, nothing leaves". */
  readonly ways: readonly { readonly name: string; readonly stands: string }[];
  /** What a power cut could cost, in one line. */
  readonly powerCut: string;
};
