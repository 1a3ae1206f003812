/**
 * Trouble that people cause, as a value: what is wrong, where it stands, and how to mend it. Only trouble that the
 * program itself causes is thrown.
 */
export type Problem = {
  readonly code: string;
  readonly what: string;
  readonly where: string;
  readonly mend: string;
};

export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export const good = <T>(value: T): Checked<T> => ({ ok: true, value });
export const bad = (...problems: readonly Problem[]): Checked<never> => ({ ok: false, problems });
