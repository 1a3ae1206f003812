import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';

/** Prism in prism dioptres: base up and base in are plus, whichever eye. */
export type PrismParts = { readonly upPd: number; readonly inPd: number };

const LARGEST_PD = 20;

/** Reads prism with its bases: "0.5 down", "1 BI", "0,5 base up / 1 out", "BU 0.5". Bases by angle are refused. */
export function readPrismText(input: string): Reading<PrismParts> {
  const text = bareText(input)
    .toLowerCase()
    .replace(/(\d),(\d)/g, '$1.$2');
  const unread = refused(
    'prism-unread',
    `“${shortened(input)}” is not read as prism with a base.`,
    'for example 0.5 down, 1 in, or both: 0.5 up / 1 out',
    'Write the amount and the base: up, down, in or out.',
  );
  let [upPd, inPd] = [0, 0];
  const seen = new Set<string>();
  const parts = text.split(/ ?[/;&+] ?|, | and /).flatMap((part) => part.split(/(?<=\p{L}) (?=[\d.])/u));
  for (const part of parts) {
    const found = AMOUNT_FIRST.exec(part) ?? flipped(BASE_FIRST.exec(part));
    if (!found) return unread;
    const amount = Number(found[1]);
    const base = BASES[found[2]!.replace(/^base ?/, '')];
    if (base === undefined || !Number.isFinite(amount)) return unread;
    const line = base === 'up' || base === 'down' ? 'vertical' : 'horizontal';
    if (seen.has(line)) return unread;
    seen.add(line);
    if (amount > LARGEST_PD) {
      return refused(
        'prism-out-of-range',
        `${amount} prism dioptres is outside what is possible.`,
        `from 0 to ${LARGEST_PD}`,
        'Mend the amount.',
      );
    }
    if (line === 'vertical') upPd = base === 'up' ? amount : 0 - amount;
    else inPd = base === 'in' ? amount : 0 - amount;
  }
  return read({ upPd, inPd });
}

const BASE = '(?:base ?)?(?:up|down|dn|in|out)|b\\.?[udio]\\.?';
const AMOUNT_FIRST = new RegExp(`^(\\d{1,3}(?:\\.\\d+)?) ?(?:pd|p\\.d\\.|\u0394|\u2206|prism)? ?(${BASE})$`);
const BASE_FIRST = new RegExp(`^(${BASE}) ?(\\d{1,3}(?:\\.\\d+)?) ?(?:pd|p\\.d\\.|\u0394|\u2206)?$`);
const BASES: Readonly<Record<string, 'up' | 'down' | 'in' | 'out'>> = {
  up: 'up',
  down: 'down',
  dn: 'down',
  in: 'in',
  out: 'out',
  bu: 'up',
  'b.u.': 'up',
  bd: 'down',
  'b.d.': 'down',
  bi: 'in',
  'b.i.': 'in',
  bo: 'out',
  'b.o.': 'out',
};

const flipped = (found: RegExpExecArray | null) =>
  found ? [found[0], found[2] ?? '', found[1] ?? ''] : null;
