import { CheckTable } from '../job/page.tsx';
import { LensPictureSvg } from '../pictures/lens/picture.tsx';
import { Field, PostForm } from '../pieces/form.tsx';
import { Blank, Paper } from '../pieces/paper.tsx';
import { maySign, Signer } from '../pieces/signer.tsx';
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
      {view.trouble ? <p class="mend no-print">{view.trouble}</p> : null}
      <p class="verdict">{view.verdict}</p>
      {view.hold?.stands ? <p class="caution">{view.hold.stands}</p> : null}
      <CheckTable lines={view.lines} />
      {view.picture ? <LensPictureSvg picture={view.picture} id="slip-lens" /> : null}
      {view.cautions.map((caution) => (
        <p class="hint">{caution}</p>
      ))}
      <div class="blanks">
        <Blank label="Checked by, initials" />
        <Blank label="On" />
      </div>
      {view.hold ? <Hold hold={view.hold} me={view.me} jobHref={view.jobHref} /> : null}
    </Paper>
  );
}

/** Holds the pair back before it leaves, or lets it go; none of it is printed. */
function Hold(props: { hold: NonNullable<BenchSlipView['hold']>; me: string | undefined; jobHref: string }) {
  const { hold } = props;
  if (hold.state === 'let go') return null;
  if (hold.state === 'may be held') {
    return (
      <PostForm action={`${props.jobHref}/slip/hold`} csrf={hold.csrf} class="sign-form no-print">
        <Field name="why" id="hold-why" label="Hold it back, because" required value={hold.why} />
        <button type="submit" class="act">
          Hold it
        </button>
        <p class="hint">A held pair can neither be handed over nor posted until it is released here.</p>
      </PostForm>
    );
  }
  const held = hold.state === 'held';
  const signs = maySign(hold.signers, props.me);
  if (!held && !signs)
    return (
      <div class="no-print">
        <Signer signers={hold.signers} me={props.me} />
      </div>
    );
  return (
    <PostForm action={`${props.jobHref}/slip/release`} csrf={hold.csrf} class="sign-form no-print">
      {held ? (
        <Field name="why" id="release-why" label="Mended or accepted: what" required value={hold.why} />
      ) : null}
      <Signer signers={hold.signers} me={props.me} label={held ? 'Released by' : 'Signed by'} />
      <button type="submit" class="act">
        {held ? 'Let it go' : 'Sign'}
      </button>
    </PostForm>
  );
}
