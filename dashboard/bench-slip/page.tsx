import { CheckTable } from '../job/page.tsx';
import { LensPictureSvg } from '../pictures/lens/picture.tsx';
import { Blank, Paper } from '../pieces/paper.tsx';
import type { BenchSlipView } from './view.ts';

/** The bench check of one finished pair, to be signed. */
export function BenchSlipPage(props: { view: BenchSlipView }) {
  const { view } = props;
  return (
    <Paper
      title={`Bench check: job ${view.jobNumber}`}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref={view.jobHref}
    >
      <p>
        {view.wearer}, {view.pair}. {view.standard}.
      </p>
      <p class="verdict">{view.verdict}</p>
      <CheckTable lines={view.lines} />
      {view.picture ? <LensPictureSvg picture={view.picture} id="slip-lens" /> : null}
      {view.cautions.map((caution) => (
        <p class="hint">{caution}</p>
      ))}
      <div class="blanks">
        <Blank label="Checked by, initials" />
        <Blank label="On" />
      </div>
    </Paper>
  );
}
