import { Field, PostForm, Select } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { BadLine, DeliveryImportView, DryRun, RecordView } from './view.ts';

const DATE_ORDERS = [
  { value: 'ymd', words: '2026-08-27' },
  { value: 'mdy', words: '08/27/2026, month first' },
  { value: 'dmy', words: '27/08/2026, day first' },
];

/** A file of jobs: first only looked at, then taken in. */
export function DeliveryImportPage(props: { shell: ShellView; view: DeliveryImportView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="delivery-import">
      {view.taken ? (
        <p class="lead">
          Taken in: {newJobs(view.taken.newCount)}, {view.taken.changedCount} changed, {view.taken.sameCount}{' '}
          there already, {view.taken.badCount} refused.{' '}
          {view.taken.toSign ? (
            <>
              Their numbers wait to be signed on <a href="/to-sign">To sign</a>, all by one signature.{' '}
            </>
          ) : null}
          <a href="/deliveries">To the deliveries</a>
        </p>
      ) : null}
      {view.unreadable ? (
        <div class="notice trouble" role="alert">
          <p>{view.unreadable}</p>
        </div>
      ) : null}
      {view.dryRun ? <Looked run={view.dryRun} csrf={shell.csrf} /> : null}
      {view.record ? <RecordLooked record={view.record} csrf={shell.csrf} /> : null}
      <section aria-labelledby="give-heading">
        <h2 id="give-heading">{view.dryRun ? 'Another file' : 'Give a file'}</h2>
        <p>
          Jobs: a spreadsheet saved as CSV, with commas or semicolons, or JSON. For a job that is here: a
          prescription (FHIR R4 VisionPrescription), or lens-order records. Each is only looked at first;
          nothing is taken in before you say so. The same file twice changes nothing.
        </p>
        <PostForm action="/deliveries/import" csrf={shell.csrf} files class="import-form">
          <input type="hidden" name="step" value="check" />
          <div class="field">
            <label for="import-file">File</label>
            <input id="import-file" type="file" name="file" />
          </div>
          <div class="field">
            <label for="import-pasted">or paste the lines, heading first</label>
            <textarea id="import-pasted" name="pasted" rows={5}></textarea>
          </div>
          <Select name="date_order" id="import-order" label="Dates are written" choices={DATE_ORDERS} />
          <button type="submit" class="act">
            Look at it
          </button>
        </PostForm>
        <ul class="papers">
          {view.templates.map((template) => (
            <li>
              <a href={template.href}>{template.words}</a>
            </li>
          ))}
        </ul>
      </section>
    </Shell>
  );
}

function Looked(props: { run: DryRun; csrf: string }) {
  const { run } = props;
  const usable = run.newCount + run.changes.length;
  return (
    <section aria-labelledby="looked-heading" class="looked">
      <h2 id="looked-heading">{run.fileName}: looked at, not taken in yet</h2>
      <ul class="counts">
        <li>
          <b>{run.newCount}</b> new
          {run.silentCount > 0
            ? `, of them ${run.silentCount} never to be messaged (no number, address or consent)`
            : ''}
        </li>
        <li>
          <b>{run.changes.length}</b> would change
        </li>
        <li>
          <b>{run.sameCount}</b> there already
        </li>
        <li>
          <b>{run.bad.length}</b> to mend
        </li>
      </ul>
      {run.sample.length > 0 ? (
        <>
          <h3>As understood</h3>
          <ul class="sample">
            {run.sample.map((line) => (
              <li>
                <span class="line-number">line {line.line}</span> {line.words}
              </li>
            ))}
          </ul>
        </>
      ) : null}
      {run.bad.length > 0 ? <BadLines bad={run.bad} /> : null}
      {usable > 0 ? (
        <PostForm action="/deliveries/import" csrf={props.csrf}>
          <input type="hidden" name="step" value="take" />
          <input type="hidden" name="date_order" value={run.dateOrder} />
          <input type="hidden" name="checked_text" value={run.text} />
          {run.changes.length > 0 ? (
            <fieldset>
              <legend>Would change; tick those that should</legend>
              {run.changes.map((change) => (
                <label class="tick">
                  <input type="checkbox" name="change_line" value={String(change.line)} /> Job{' '}
                  {change.jobNumber} (line {change.line}):{' '}
                  {change.changes
                    .map((c) => `${c.name} from ${c.was || 'nothing'} to ${c.would || 'nothing'}`)
                    .join('; ')}
                </label>
              ))}
            </fieldset>
          ) : null}
          <button type="submit" class="act">
            Take in {run.newCount > 0 ? newJobs(run.newCount) : 'the ticked changes'}
          </button>
        </PostForm>
      ) : (
        <p>There is nothing in it to take in.</p>
      )}
    </section>
  );
}

/** A prescription or lens-order records: shown as they were read, kept with a job once its number is said. */
function RecordLooked(props: { record: RecordView; csrf: string }) {
  const { record } = props;
  return (
    <section aria-labelledby="record-heading" class="looked">
      <h2 id="record-heading">
        {record.fileName}: {record.what}, not taken in yet
      </h2>
      {record.troubles.length > 0 ? (
        <div class="notice trouble" role="alert">
          {record.troubles.map((words) => (
            <p>{words}</p>
          ))}
        </div>
      ) : null}
      {record.warnings.map((words) => (
        <p class="caution">{words}</p>
      ))}
      {record.lines.length > 0 ? (
        <WideTable label="As understood">
          <table>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">R</th>
                <th scope="col">L</th>
              </tr>
            </thead>
            <tbody>
              {record.lines.map((line) => (
                <tr>
                  <th scope="row">{line.name}</th>
                  <td>{line.right}</td>
                  <td>{line.left}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      ) : null}
      {record.readable ? (
        <PostForm action="/deliveries/import" csrf={props.csrf} class="line-form">
          <input type="hidden" name="step" value="record" />
          <input type="hidden" name="record_text" value={record.text} />
          <input type="hidden" name="file_name" value={record.fileName} />
          <Field
            name="job_number"
            id="record-job"
            label="Number of the job"
            required
            value={record.jobNumber}
          />
          {record.meanings.length > 0 ? (
            <Select
              name="meaning"
              id="record-meaning"
              label="These powers are"
              choices={record.meanings}
              value={record.meaning}
            />
          ) : null}
          <button type="submit" class="act">
            Keep with this job
          </button>
        </PostForm>
      ) : null}
    </section>
  );
}

function BadLines(props: { bad: readonly BadLine[] }) {
  return (
    <>
      <h3 id="bad-heading">To mend</h3>
      <WideTable label="Lines to mend" blocks>
        <table>
          <thead>
            <tr>
              <th scope="col">Line</th>
              <th scope="col">Column</th>
              <th scope="col">Found</th>
              <th scope="col">Allowed</th>
              <th scope="col">How to mend it</th>
            </tr>
          </thead>
          <tbody>
            {props.bad.map((line) => (
              <tr>
                <th scope="row" data-is="line">
                  {line.line}
                </th>
                <td data-is="column">{line.column}</td>
                <td data-is="found">
                  <code>{line.found}</code>
                </td>
                <td data-is="allowed">{line.allowed}</td>
                <td>{line.mend}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
    </>
  );
}

const newJobs = (count: number): string => (count === 1 ? '1 new job' : `${count} new jobs`);
