import { LensPictureSvg } from '../pictures/lens/picture.tsx';
import { TintPictureSvg } from '../pictures/tint/picture.tsx';
import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Named } from '../pieces/term.tsx';
import { Traced } from '../pieces/trace.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import { AddNumber } from './addNumber.tsx';
import type { CheckLine, JobView } from './view.ts';

/** One order: its dates, its numbers, the bench check, the hand-over. */
export function JobPage(props: { shell: ShellView; view: JobView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="job">
      <p class="lead">
        <a href={view.wearer.href}>{view.wearer.name}</a>, {view.pair},{' '}
        {view.way === 'counter' ? 'at the counter' : 'by post'}.{' '}
        {view.caseHref ? <a href={view.caseHref}>There is a case.</a> : null}
      </p>
      {view.unsigned ? (
        <div class="caution">
          <p>{view.unsigned.words}</p>
          {view.unsigned.button ? (
            <PostForm action={`/jobs/${view.jobId}/sign`} csrf={shell.csrf} class="one-button">
              <button type="submit">{view.unsigned.button}</button>
            </PostForm>
          ) : null}
        </div>
      ) : null}
      <Dates view={view} csrf={shell.csrf} />
      {view.handOver ? (
        <HandOver view={view} csrf={shell.csrf} />
      ) : (
        <p class="handed-over">{view.handedOver}</p>
      )}
      <BenchCheck view={view} />
      {view.expect.length > 0 ? (
        <section aria-labelledby="expect-heading">
          <h2 id="expect-heading">What to expect with this job</h2>
          <ul class="expect">
            {view.expect.map((line) => (
              <li>
                {line.words} <Traced trace={line.trace}>{line.number}</Traced>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section aria-labelledby="numbers-heading">
        <h2 id="numbers-heading">Numbers</h2>
        {view.facts.length === 0 ? (
          <p class="soft">None are known yet. They can be added here or come with a fuller file.</p>
        ) : (
          <WideTable label="Numbers of this job">
            <table>
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col">R</th>
                  <th scope="col">L</th>
                  <th scope="col">Pair</th>
                  <th scope="col">From</th>
                </tr>
              </thead>
              <tbody>
                {view.facts.map((fact) => (
                  <tr>
                    <th scope="row">
                      <Named name={fact.name} means={fact.means} /> <span class="unit">{fact.unit}</span>
                    </th>
                    <td>{fact.right}</td>
                    <td>{fact.left}</td>
                    <td>{fact.both}</td>
                    <td>{fact.from}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        )}
        <AddNumber view={view} csrf={shell.csrf} />
        <p>
          <a href={`/jobs/${view.jobId}/lab-form`}>Type in the lab’s form</a>: order over as-worn powers, what
          differs and why.
        </p>
        {view.picture ? <LensPictureSvg picture={view.picture} id="job-lens" /> : null}
      </section>
      {view.tint ? (
        <section aria-labelledby="tint-heading">
          <h2 id="tint-heading">Tint</h2>
          <TintPictureSvg picture={view.tint} id="job-tint" />
        </section>
      ) : null}
      {view.remake ? <Remake remake={view.remake} jobId={view.jobId} csrf={shell.csrf} /> : null}
      {view.papers.length > 0 ? (
        <section aria-labelledby="papers-heading">
          <h2 id="papers-heading">To print</h2>
          <ul class="papers">
            {view.papers.map((paper) => (
              <li>
                <a href={paper.href}>{paper.words}</a>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </Shell>
  );
}

function Dates(props: { view: JobView; csrf: string }) {
  const { view } = props;
  const settable = view.dates.filter((date) => date.canSet);
  return (
    <section aria-labelledby="dates-heading">
      <h2 id="dates-heading">Dates</h2>
      <dl class="dates">
        {view.dates.map((date) => (
          <div>
            <dt>
              <Named name={date.name} />
            </dt>
            <dd>{date.on === '' ? <span class="soft">not known</span> : date.on}</dd>
          </div>
        ))}
      </dl>
      {settable.length > 0 ? (
        <PostForm action={`/jobs/${view.jobId}/date`} csrf={props.csrf} class="line-form">
          <Select
            name="which"
            id="date-which"
            label="Set a date"
            choices={settable.map((date) => ({ value: date.which, words: date.name }))}
          />
          <Field
            name="on"
            id="date-on"
            label="Day"
            type="date"
            required
            trouble={troubleOf(view.troubles, 'on')}
          />
          <button type="submit">Keep</button>
        </PostForm>
      ) : null}
    </section>
  );
}

function HandOver(props: { view: JobView; csrf: string }) {
  const { view } = props;
  const { handOver } = view;
  if (handOver === null) return null;
  return (
    <section aria-labelledby="hand-heading" class="hand-over">
      <h2 id="hand-heading">{view.way === 'counter' ? 'Hand over' : 'It has arrived'}</h2>
      <PostForm action={`/jobs/${view.jobId}/hand-over`} csrf={props.csrf}>
        <div class="inputs">
          <Field
            name="handed_over_on"
            id="hand-on"
            label={view.way === 'counter' ? 'Handed over on' : 'Arrived on'}
            type="date"
            required
            value={typedBefore(view.values, 'handed_over_on') ?? handOver.today}
            trouble={troubleOf(view.troubles, 'handed_over_on')}
          />
          <Field
            name="first_worn_on"
            id="hand-worn"
            label="First worn on, if another day"
            type="date"
            value={typedBefore(view.values, 'first_worn_on')}
            trouble={troubleOf(view.troubles, 'first_worn_on')}
          />
          <Select
            name="slip_test"
            id="hand-slip"
            label="Head shaken, looking down"
            choices={[
              { value: '', words: 'not tried' },
              { value: 'holds', words: 'the frame holds' },
              { value: 'slides', words: 'the frame slides' },
            ]}
            value={typedBefore(view.values, 'slip_test')}
          />
        </div>
        <fieldset>
          <legend>Ask in these words</legend>
          <blockquote>{handOver.consentWords}</blockquote>
          <input type="hidden" name="words" value={handOver.consentWords} />
          {handOver.hasPhone ? (
            <YesNo name="consent_text" about="Texts" view={view} />
          ) : (
            <p class="soft">No number: no texts.</p>
          )}
          {handOver.hasEmail ? (
            <YesNo name="consent_email" about="Email" view={view} />
          ) : (
            <p class="soft">No address: no email.</p>
          )}
          <Field
            name="consent_by"
            id="hand-by"
            label="Asked by"
            value={typedBefore(view.values, 'consent_by')}
          />
        </fieldset>
        <button type="submit" class="act">
          {view.way === 'counter' ? 'Handed over' : 'Arrived'}
        </button>
      </PostForm>
    </section>
  );
}

/** Made again though nobody complained: it counts all the same. */
function Remake(props: { remake: NonNullable<JobView['remake']>; jobId: string; csrf: string }) {
  const { remake } = props;
  return (
    <details>
      <summary>Make it again without a case</summary>
      <PostForm action={`/jobs/${props.jobId}/remake`} csrf={props.csrf} class="line-form">
        <Select name="reason" id="remake-reason" label="Because of" choices={remake.reasons} />
        <Select name="borne_by" id="remake-borne" label="Borne by" choices={remake.bearers} />
        <Select
          name="to_design"
          id="remake-design"
          label="In"
          choices={[{ value: '', words: 'the same design' }, ...remake.designs]}
        />
        <button type="submit">Make again</button>
      </PostForm>
    </details>
  );
}

function YesNo(props: { name: string; about: string; view: JobView }) {
  const value = typedBefore(props.view.values, props.name);
  return (
    <fieldset class="yes-no">
      <legend>{props.about}</legend>
      <label class="tick">
        <input type="radio" name={props.name} value="given" checked={value === 'given'} /> yes
      </label>
      <label class="tick">
        <input type="radio" name={props.name} value="refused" checked={value === 'refused'} /> no
      </label>
      <label class="tick">
        <input type="radio" name={props.name} value="" checked={value === undefined || value === ''} /> not
        asked
      </label>
    </fieldset>
  );
}

function BenchCheck(props: { view: JobView }) {
  const { view } = props;
  return (
    <section aria-labelledby="check-heading">
      <h2 id="check-heading">Bench check</h2>
      {view.check.length === 0 ? (
        <p class="soft">{view.noCheck}</p>
      ) : (
        <>
          <p>{view.checkVerdict}</p>
          <CheckTable lines={view.check} />
        </>
      )}
    </section>
  );
}

/** Readings against what they should be: R over L, found, allowed, margin left, pass or out. */
export function CheckTable(props: { lines: readonly CheckLine[] }) {
  return (
    <WideTable label="Readings against the order">
      <table class="check">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Ordered</th>
            <th scope="col">As worn</th>
            <th scope="col">Found</th>
            <th scope="col">Allowed</th>
            <th scope="col">Left</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {props.lines.map((line) => (
            <tr class={line.verdict === 'out' ? 'is-out' : ''}>
              <th scope="row">{line.name}</th>
              <td>{line.ordered}</td>
              <td>{line.asWorn}</td>
              <td>{line.read}</td>
              <td>{line.allowed}</td>
              <td>{line.margin}</td>
              <td>
                <Traced trace={line.trace}>{line.verdict === 'out' ? 'OUT' : line.verdict}</Traced>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </WideTable>
  );
}
