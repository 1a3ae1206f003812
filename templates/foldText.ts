/**
 * Swaps the silent characters that would double the length of a text (curly quotes, dashes, ellipsis, no-break space, and
 * what Unicode NFKC calls the same) for plain ones. Accented letters stay: a name is not respelt to save a part.
 */
export function foldText(text: string): string {
  return text
    .replace(/[‘’‚‛′`´]/g, "'")
    .replace(/[“”„‟″«»]/g, '"')
    .replace(/[‐‑‒–—―−]/g, '-')
    .replace(/[•·∙]/g, '-')
    .replace(/×/g, 'x')
    .replace(/\t/g, ' ')
    .replace(/[\u00ad\u061c\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]/g, '')
    .replace(/\r\n?/g, '\n')
    .normalize('NFKC')
    .replace(/⁄/g, '/')
    .replace(/∆/g, 'Δ');
}

/** A name from the shop's data as it may stand in a message: one line, not a novel, no address hidden in it. */
export function foldName(name: string): string {
  return foldText(name).replace(/\s+/g, ' ').trim().slice(0, 30);
}
