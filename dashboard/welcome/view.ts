/*
 * GET  /welcome   asked once, on an empty data folder
 * POST /welcome   choice: invented | own; with own also name, country, time_zone, phone
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type WelcomeView = {
  readonly csrf: string;
  /** Names of the time zones to choose from, most likely first. */
  readonly timeZones: readonly string[];
  /** Countries as code and name. */
  readonly countries: readonly { readonly code: string; readonly name: string }[];
  /** Typed before, after a refusal. */
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
  /** True while the invented shop is being filled: the page reloads itself. */
  readonly filling: { readonly words: string; readonly done: number; readonly of: number } | null;
};
