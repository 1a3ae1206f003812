import type { Mark, MarkedWords } from './view.ts';

/** Someone's own words: always in the serif face, the passages underlined that were read as something. */
export function OwnWords(props: { words: MarkedWords; class?: string }) {
  return (
    <q class={`own-words ${props.class ?? ''}`} lang={props.words.lang}>
      {cut(props.words).map((piece) =>
        piece.mark === null ? (
          piece.text
        ) : (
          <mark class={CLASSES[piece.mark.kind]} title={piece.mark.means}>
            {piece.text}
          </mark>
        ),
      )}
    </q>
  );
}

const CLASSES: Record<Mark['kind'], string> = {
  label: 'read',
  danger: 'read danger-words',
  'left over': 'read left-over',
};

type Piece = { readonly text: string; readonly mark: Mark | null };

/** The text cut at its marks; a mark that overlaps an earlier one, or points outside, is left out. */
export function cut(words: MarkedWords): readonly Piece[] {
  const pieces: Piece[] = [];
  let at = 0;
  for (const mark of [...words.marks].sort((a, b) => a.start - b.start || b.end - a.end)) {
    if (mark.start < at || mark.end <= mark.start || mark.end > words.text.length) continue;
    if (mark.start > at) pieces.push({ text: words.text.slice(at, mark.start), mark: null });
    pieces.push({ text: words.text.slice(mark.start, mark.end), mark });
    at = mark.end;
  }
  if (at < words.text.length) pieces.push({ text: words.text.slice(at), mark: null });
  return pieces;
}
