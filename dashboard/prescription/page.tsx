import { Field, PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { maySign, Signer } from '../pieces/signer.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { PrescriptionView } from './view.ts';

/** A new prescription came in: what it changes, and the job drafted from it. */
export function PrescriptionPage(props: { shell: ShellView; view: PrescriptionView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="prescription">
      <p class="lead">
        <a href={view.caseHref}>The case of {view.wearer}</a>, <a href={view.jobHref}>job {view.jobNumber}</a>
        . Type it as it is written; plus cylinder is turned into minus.
      </p>
      <Typed view={view} csrf={shell.csrf} />
      {view.difference ? <Difference view={view} csrf={shell.csrf} /> : null}
    </Shell>
  );
}

function Typed(props: { view: PrescriptionView; csrf: string }) {
  const { view } = props;
  const one = (name: string, label: string, hint?: string, required = false) => (
    <Field
      name={name}
      id={`new-${name.replaceAll('_', '-').toLowerCase()}`}
      label={label}
      {...(hint ? { hint } : {})}
      required={required}
      value={typedBefore(view.values, name)}
      trouble={troubleOf(view.troubles, name)}
    />
  );
  return (
    <section aria-labelledby="typed-heading">
      <h2 id="typed-heading">The new prescription</h2>
      <PostForm action={`/cases/${view.caseId}/prescription`} csrf={props.csrf} label="The new prescription">
        <div class="powers">
          {one('rx_R', 'Right', 'such as -2.00 / -0.50 x 90, or plano', true)}
          {one('add_R', 'Addition', 'empty: as before')}
          {one('rx_L', 'Left', 'such as -2.25 DS', true)}
          {one('add_L', 'Addition', 'empty: as on the right')}
        </div>
        <button type="submit">Show the difference</button>
      </PostForm>
    </section>
  );
}

function Difference(props: { view: PrescriptionView; csrf: string }) {
  const { view } = props;
  const difference = view.difference!;
  return (
    <section aria-labelledby="difference-heading">
      <h2 id="difference-heading">What it changes</h2>
      <WideTable label="New prescription against the one before">
        <table>
          <thead>
            <tr>
              <th scope="col">Eye</th>
              <th scope="col">Before</th>
              <th scope="col">New</th>
              <th scope="col">Difference lens</th>
              <th scope="col">Size of the change</th>
              <th scope="col">Addition</th>
            </tr>
          </thead>
          <tbody>
            {difference.eyes.map((eye) => (
              <tr>
                <th scope="row">{eye.eye}</th>
                <td>{eye.before}</td>
                <td>
                  <b>{eye.after}</b>
                </td>
                <td>{eye.lens}</td>
                <td>{eye.size}</td>
                <td>{eye.add}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <p class="hint">
        New less old by power vectors (Thibos and others 1997, from memory). It judges no prescription; the
        prescriber does.
      </p>
      {difference.remarks.length > 0 ? (
        <ul class="plain-list">
          {difference.remarks.map((remark) => (
            <li>{remark}</li>
          ))}
        </ul>
      ) : null}
      {difference.changes ? (
        <Sign view={view} csrf={props.csrf} />
      ) : (
        <p>Nothing changes: there is no job to draft.</p>
      )}
    </section>
  );
}

function Sign(props: { view: PrescriptionView; csrf: string }) {
  const { view } = props;
  const trouble = troubleOf(view.troubles, 'person_id') ?? troubleOf(view.troubles, 'case');
  const typed = ['rx_R', 'rx_L', 'add_R', 'add_L'].map((name) => (
    <input type="hidden" name={name} value={typedBefore(view.values, name) ?? ''} />
  ));
  if (!maySign(view.signers, view.me))
    return (
      <PostForm action={`/cases/${view.caseId}/prescription/keep`} csrf={props.csrf} class="sign-form">
        <Signer signers={view.signers} me={view.me} />
        {typed}
        <button type="submit">Keep it, to be signed</button>
      </PostForm>
    );
  return (
    <PostForm
      action={`/cases/${view.caseId}/prescription/sign`}
      csrf={props.csrf}
      class="sign-form"
      label="Sign and draft the job"
    >
      <input type="hidden" name="seen_version" value={String(view.version)} />
      {typed}
      {view.second ? (
        <label class="tick">
          <input type="checkbox" name="checked_by_other" value="yes" required /> this pair was made again
          before: somebody else has checked it on the bench
        </label>
      ) : null}
      <Signer signers={view.signers} me={view.me} />
      {trouble ? <p class="mend">{trouble}</p> : null}
      <button type="submit" class="act">
        Sign and draft the job
      </button>
      <p class="hint">
        The new job is the old order with this prescription in it, chained to this pair. Nothing goes to the
        lab by itself.
      </p>
    </PostForm>
  );
}
