import { Blank, Paper } from '../pieces/paper.tsx';
import type { MeasureSheetView } from './view.ts';

/** The sheet that a wearer measures by at home, with room for the two numbers. */
export function MeasureSheetPage(props: { view: MeasureSheetView }) {
  const { view } = props;
  return (
    <Paper
      title={view.title}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref={view.backHref}
    >
      <div lang={view.lang}>
        <p>
          {view.wearer}, {view.jobNumber}
        </p>
        <h2>{view.tapeTitle}</h2>
        <div class="how-to-measure">
          <ol class="numbered-list">
            {view.tape.map((line) => (
              <li>{line}</li>
            ))}
          </ol>
          <DotOnTape />
        </div>
        <div class="blanks">
          <Blank label={view.right} />
          <Blank label={view.left} />
        </div>
        <h2>{view.photoTitle}</h2>
        <ul class="plain-list">
          {view.photo.map((line) => (
            <li>{line}</li>
          ))}
        </ul>
        <p>
          <b>
            {view.sendBack} {view.phone}
          </b>
        </p>
      </div>
    </Paper>
  );
}

/** One lens with its strip of tape, the dot before the pupil, and the line that is measured. */
function DotOnTape() {
  return (
    <svg
      class="dot-on-tape"
      viewBox="0 0 200 170"
      role="img"
      aria-label="From the dot straight down to the lowest point"
    >
      <path class="rim" d="M20 40 Q20 15 60 12 H140 Q180 15 180 50 Q178 130 110 138 Q30 140 20 40 Z" />
      <path class="tape" d="M60 30 h80 v48 h-80 Z" />
      <circle class="dot" cx="104" cy="56" r="4" />
      <path class="measured" d="M104 60 V138 M98 138 h12 M98 56 h-6" />
    </svg>
  );
}
