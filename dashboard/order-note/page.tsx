import { PostForm } from '../pieces/form.tsx';
import { Blank, Paper } from '../pieces/paper.tsx';
import { maySign, Signer } from '../pieces/signer.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Traced } from '../pieces/trace.tsx';
import type { OrderNoteView } from './view.ts';

/** The remake as drafted: what changes from what to what and why, to be signed by a licensed person, then printed. */
export function OrderNotePage(props: { csrf: string; view: OrderNoteView }) {
  const { view } = props;
  return (
    <Paper
      title={`${view.signed ? 'Order note' : 'Draft of an order'}: job ${view.jobNumber}, to be made again`}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref={view.caseHref}
    >
      <p>
        {view.wearer}, {view.pair}. To {view.lab}; {view.window}. Reason: {view.reason}.
      </p>
      {view.trouble ? <p class="mend no-print">{view.trouble}</p> : null}
      {view.others && view.others.length > 0 ? (
        <p class="no-print">
          Draft it for another cause:
          {view.others.map((other) => (
            <>
              {' '}
              <a href={other.href}>{other.words}</a>
            </>
          ))}
        </p>
      ) : null}
      <h2>What changes</h2>
      {view.changes.length === 0 ? <p>Nothing changes: the same order again.</p> : null}
      <ul class="changes">
        {view.changes.map((change) => (
          <li>
            <b>{change.name}</b>: {change.from} to <b>{change.to}</b>, because{' '}
            <Traced trace={change.trace}>{change.because}</Traced>
          </li>
        ))}
      </ul>
      <h2>The whole order</h2>
      <WideTable label="The order">
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">R</th>
              <th scope="col">L</th>
              <th scope="col">Pair</th>
            </tr>
          </thead>
          <tbody>
            {view.order.map((line) => (
              <tr>
                <th scope="row">{line.name}</th>
                <td>{line.right}</td>
                <td>{line.left}</td>
                <td>{line.both}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <h2>What to expect of it</h2>
      <ul class="plain-list">
        {view.expect.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
      {view.signed ? (
        <p class="signed">
          Signed by {view.signed.by}, {view.signed.licence}, {view.signed.when}.
          {view.drafted ? (
            <span class="no-print">
              {' '}
              <a href={view.drafted.href}>{view.drafted.words}</a>
            </span>
          ) : null}
        </p>
      ) : (
        <>
          <p class="caution">Not to be sent before a licensed person has signed it.</p>
          <div class="blanks">
            <Blank label="To be signed by a licensed person" />
            <Blank label="Licence" />
            <Blank label="On" />
          </div>
          {(view.kept ?? []).map((line) => (
            <p class="hint no-print">{line}</p>
          ))}
          <Sign csrf={props.csrf} view={view} />
          <Keep csrf={props.csrf} view={view} />
        </>
      )}
    </Paper>
  );
}

function Sign(props: { csrf: string; view: OrderNoteView }) {
  const { view } = props;
  if (!maySign(view.signers, view.me)) return <Signer signers={view.signers} me={view.me} />;
  return (
    <PostForm action={`/cases/${view.caseId}/remake/sign`} csrf={props.csrf} class="sign-form no-print">
      <input type="hidden" name="seen_version" value={String(view.version)} />
      <input type="hidden" name="cause" value={view.cause ?? ''} />
      {view.second ? (
        <fieldset>
          <legend>This pair was made again before</legend>
          <label class="tick">
            <input type="checkbox" name="refraction_checked" value="yes" required /> the refraction has been
            checked
          </label>
          <label class="tick">
            <input type="checkbox" name="checked_by_other" value="yes" required /> the bench check was made by
            someone else
          </label>
        </fieldset>
      ) : null}
      <Signer signers={view.signers} me={view.me} />
      <button type="submit" class="act">
        Sign
      </button>
      <p class="hint">
        Signing drafts the new job, chained to this pair. Nothing goes to the lab by itself: print it, or copy
        it into the lab’s own order.
      </p>
    </PostForm>
  );
}

function Keep(props: { csrf: string; view: OrderNoteView }) {
  return (
    <PostForm
      action={`/cases/${props.view.caseId}/remake/keep`}
      csrf={props.csrf}
      class="one-button no-print"
    >
      <input type="hidden" name="cause" value={props.view.cause ?? ''} />
      <button type="submit">Keep it, to be signed later</button>
    </PostForm>
  );
}
