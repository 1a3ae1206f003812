import type { Place } from '../../store/pages/wearers.ts';

/** Rows on one page of a list. */
export const PAGE_SIZE = 50;
/** Lists are counted no further than this; beyond it the page says "more than". */
export const COUNT_AT_MOST = 301;

/**
 * A place in a long list, as it rides in an address: from which row on, after or before which key and id. A page far down
 * costs no more than the first, because nothing before it is read.
 */
export type Paging = { readonly from: number; readonly place: Place | null };

export function readPaging(page: string | undefined): Paging {
  const found = /^(\d{1,7})\.([ab])\.([\w-]{0,300})\.([\w-]{1,64})$/.exec(page ?? '');
  if (!found) return { from: 1, place: null };
  const key = Buffer.from(found[3]!, 'base64url').toString();
  return {
    from: Math.max(1, Number(found[1])),
    place: { way: found[2] === 'b' ? 'before' : 'after', key, id: found[4]! },
  };
}

export type Paged<T> = {
  readonly rows: readonly T[];
  readonly range: string;
  readonly nextHref: string | null;
  readonly previousHref: string | null;
};

/**
 * Cuts the rows of one page (read with one more than fit) and makes the ways to the next and the one before. `total` is
 * counted up to COUNT_AT_MOST.
 */
export function pageOf<T>(
  rows: readonly T[],
  paging: Paging,
  total: number,
  keyOf: (row: T) => { key: string; id: string },
  hrefOf: (page: string) => string,
): Paged<T> {
  const more = rows.length > PAGE_SIZE;
  const back = paging.place?.way === 'before';
  const shown = more ? (back ? rows.slice(1) : rows.slice(0, PAGE_SIZE)) : rows;
  const from = back ? Math.max(1, paging.from - shown.length) : paging.from;
  const hasNext = back || more;
  const hasPrevious = back ? more : paging.place !== null;
  const href = (way: 'a' | 'b', at: number, row: T) => {
    const { key, id } = keyOf(row);
    return hrefOf(`${at}.${way}.${Buffer.from(key).toString('base64url')}.${id}`);
  };
  return {
    rows: shown,
    range: rangeWords(from, shown.length, total),
    nextHref: hasNext && shown.length > 0 ? href('a', from + shown.length, shown.at(-1)!) : null,
    previousHref: hasPrevious && shown.length > 0 ? href('b', from, shown[0]!) : null,
  };
}

export function rangeWords(from: number, count: number, total: number): string {
  if (count === 0) return 'none';
  const of =
    total >= COUNT_AT_MOST ? `more than ${COUNT_AT_MOST - 1}` : String(Math.max(total, from + count - 1));
  return `${from}–${from + count - 1} of ${of}`;
}
