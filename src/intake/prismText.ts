import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';

/** Prism in prism dioptres: base up and base in are plus, whichever eye. */
export type PrismParts = { readonly upPd: number; readonly inPd: number };

const LARGEST_PD = 20;

/** Reads prism with its bases: "0.5 down", "1 BI", "0,5 base up / 1 out", "BU 0.5". Bases by angle are refused. */
export function readPrismText(input: string): Reading<PrismParts> {
  const parts = amountsWithBases(input);
  if (!parts) {
    return refused(
      'prism-unread',
      `“${shortened(input)}” is not read as prism with a base.`,
      'for example 0.5 down, 1 in, or both: 0.5 up / 1 out',
      'Write the amount and the base: up, down, in or out; each line of it once.',
    );
  }
  const tooMuch = parts.find(({ amountPd }) => amountPd > LARGEST_PD);
  if (tooMuch) {
    return refused(
      'prism-out-of-range',
      `${tooMuch.amountPd} prism dioptres is outside what is possible.`,
      `from 0 to ${LARGEST_PD}`,
      'Mend the amount.',
    );
  }
  const along = (plus: Base, minus: Base) =>
    parts.reduce(
      (sum, { amountPd, base }) => (base === plus ? amountPd : base === minus ? 0 - amountPd : sum),
      0,
    );
  return read({ upPd: along('up', 'down'), inPd: along('in', 'out') });
}

type Base = 'up' | 'down' | 'in' | 'out';

/** Pairs of amount and base in either order; undefined where something is left over or one line comes twice. */
function amountsWithBases(input: string): readonly { amountPd: number; base: Base }[] | undefined {
  const words = bareText(input)
    .toLowerCase()
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/[\u03b4\u2206]|p\.d\.|\bpd\b|\bprism\b|\bbase\b|\band\b|[/;&+,]/g, ' ')
    .replace(/(\d)(?=\p{L})|(\p{L}\.?)(?=\d)/gu, '$1$2 ')
    .split(' ')
    .filter((word) => word !== '');
  if (words.length === 0 || words.length > 4 || words.length % 2 !== 0) return undefined;
  const parts: { amountPd: number; base: Base }[] = [];
  for (let at = 0; at < words.length; at += 2) {
    const [one, other] = [words[at]!, words[at + 1]!];
    const base = BASES.get(one) ?? BASES.get(other);
    const amount = BASES.has(one) ? other : one;
    if (base === undefined || !/^\d{1,3}(\.\d+)?$/.test(amount)) return undefined;
    if (parts.some((part) => isVertical(part.base) === isVertical(base))) return undefined;
    parts.push({ amountPd: Number(amount), base });
  }
  return parts;
}

const isVertical = (base: Base) => base === 'up' || base === 'down';

const BASES: ReadonlyMap<string, Base> = new Map(
  (
    [
      ['up', 'up bu b.u.'],
      ['down', 'down dn bd b.d.'],
      ['in', 'in bi b.i.'],
      ['out', 'out bo b.o.'],
    ] as const
  ).flatMap(([base, words]) => words.split(' ').map((word) => [word, base] as const)),
);
