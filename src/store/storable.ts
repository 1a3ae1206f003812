const REPLACEMENT = '\ufffd';

/**
 * Text as PostgreSQL can keep it: the sign with number zero, and halves of signs, stand there as the replacement sign (Unicode,
 * U+FFFD). Whoever sends such a thing must not have their message lost for it.
 */
export const storable = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: it is this very sign that cannot be kept
  /[\u0000\ud800-\udfff]/.test(text) ? text.replace(/\u0000|\p{Surrogate}/gu, REPLACEMENT) : text;

/** The same for everything within a value that is kept as JSON. */
export const storableJson = (value: unknown): string =>
  JSON.stringify(value, (_key, one: unknown) => (typeof one === 'string' ? storable(one) : one));
