import { Field, PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LabFormView, LookedEye } from './view.ts';

/** The lab's paper form typed in as it lies on the desk; what differs stands beside it at once, with the reason. */
export function LabFormPage(props: { shell: ShellView; view: LabFormView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="lab-form">
      <p class="lead">
        <a href={`/jobs/${view.jobId}`}>Job {view.jobNumber}</a>, {view.wearer}
        {view.lab === '' ? '' : `, ${view.lab}`}
      </p>
      <PostForm action={`/jobs/${view.jobId}/lab-form`} csrf={shell.csrf} id="lab-form">
        <WideTable label="The lab’s form">
          <table class="lab-form-table">
            <thead>
              <tr>
                <th scope="col">Lens</th>
                {view.columns.map((column) => (
                  <th scope="col">{column}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {view.rows.map((row) => (
                <tr>
                  <th scope="row">
                    {row.name} {row.eye}
                  </th>
                  {row.fields.map((name, at) => (
                    <td>
                      <input
                        name={name}
                        id={`f-${name}`}
                        aria-label={`${row.name} ${row.eye}, ${view.columns[at]}`}
                        value={typedBefore(view.values, name)}
                        autocomplete="off"
                        size={at === row.fields.length - 1 ? 14 : 6}
                        aria-invalid={troubleOf(view.troubles, name) ? 'true' : undefined}
                        aria-describedby={troubleOf(view.troubles, name) ? 'lab-form-troubles' : undefined}
                      />
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
        <fieldset>
          <legend>Reckoned for</legend>
          <div class="inputs">
            {view.position.map(({ name, label }) => (
              <Field
                name={name}
                id={`f-${name}`}
                label={label}
                inputmode="decimal"
                value={typedBefore(view.values, name)}
                trouble={troubleOf(view.troubles, name)}
              />
            ))}
          </div>
        </fieldset>
        <div class="buttons">
          <button type="submit" name="step" value="keep" class="act">
            Keep it
          </button>
          <button type="submit" name="step" value="look">
            Look at the differences
          </button>
        </div>
      </PostForm>
      <Looked view={view} />
    </Shell>
  );
}

function Looked(props: { view: LabFormView }) {
  const { view } = props;
  return (
    <section aria-labelledby="looked-heading" data-looked="lab-form" aria-live="polite">
      <h2 id="looked-heading">What differs, and why</h2>
      {view.troubles.length > 0 ? (
        <ul class="mend" id="lab-form-troubles">
          {view.troubles.map(({ field, text }) => (
            <li>
              <a href={`#f-${field}`}>{text}</a>
            </li>
          ))}
        </ul>
      ) : null}
      {view.differences.length > 0 ? (
        <div class="notice trouble" role="alert">
          {view.differences.map((line) => (
            <p>{line}</p>
          ))}
        </div>
      ) : null}
      {view.eyes.length === 0 ? (
        <p class="quiet">Order and as-worn powers of an eye are needed before they can be compared.</p>
      ) : (
        view.eyes.map((eye) => <Eye eye={eye} />)
      )}
      {view.notes.length > 0 ? (
        <ul class="hint">
          {view.notes.map((note) => (
            <li>{note}</li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}

function Eye(props: { eye: LookedEye }) {
  const { eye } = props;
  return (
    <>
      <h3>
        {eye.eye}: {eye.verdict}
      </h3>
      <WideTable label={`From the order to the as-worn powers, ${eye.eye}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">Step</th>
              <th scope="col">Power</th>
              <th scope="col">Changed by</th>
              <th scope="col">Why</th>
              <th scope="col">Source</th>
            </tr>
          </thead>
          <tbody>
            {eye.lines.map((line) => (
              <tr>
                <th scope="row">{line.what}</th>
                <td>{line.power}</td>
                <td>{line.change}</td>
                <td>{line.why}</td>
                <td>{line.source}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <p>{eye.gets}</p>
    </>
  );
}
