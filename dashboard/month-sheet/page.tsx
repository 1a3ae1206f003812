import { Paper } from '../pieces/paper.tsx';
import type { MonthSheetView } from './view.ts';

/** What the owner should know this month, in at most five sentences. */
export function MonthSheetPage(props: { view: MonthSheetView }) {
  const { view } = props;
  return (
    <Paper
      title={view.month}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref="/lens-designs"
    >
      {view.sentences.length === 0 ? <p class="lead">{view.otherwise}</p> : null}
      <ol class="month-sentences">
        {view.sentences.map((line) => (
          <li>
            <p>{line.sentence}</p>
            <p class="hint">
              {line.guard}. {line.pairs}
            </p>
          </li>
        ))}
      </ol>
      <p class="hint">{view.looks}</p>
    </Paper>
  );
}
