import { CheckTable } from '../job/page.tsx';
import { LensPictureSvg } from '../pictures/lens/picture.tsx';
import { Field, PostForm, Select } from '../pieces/form.tsx';
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
      {view.hold ? <Hold hold={view.hold} jobHref={view.jobHref} /> : null}
    </Paper>
  );
}

/** Holds the pair back before it leaves, or lets it go; none of it is printed. */
function Hold(props: { hold: NonNullable<BenchSlipView['hold']>; jobHref: string }) {
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
  if (!held && hold.signers.length === 0) return <p class="hint no-print">{NOBODY}</p>;
  return (
    <PostForm action={`${props.jobHref}/slip/release`} csrf={hold.csrf} class="sign-form no-print">
      {held ? (
        <Field name="why" id="release-why" label="Mended or accepted: what" required value={hold.why} />
      ) : null}
      <Select
        name="person_id"
        id="release-signer"
        label={held ? 'Released by' : 'Signed by'}
        choices={[
          ...hold.signers.map((signer) => ({ value: signer.personId, words: signer.words })),
          ...(held ? [{ value: '', words: 'nobody licensed is here: to be signed' }] : []),
        ]}
      />
      <button type="submit" class="act">
        {held ? 'Let it go' : 'Sign'}
      </button>
      {hold.signers.length === 0 ? <p class="hint">{NOBODY}</p> : null}
    </PostForm>
  );
}

const NOBODY = 'Nobody here is marked as licensed, so the release stays to be signed. See the page People.';
