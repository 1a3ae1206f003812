import { ActButton } from '../pieces/act.tsx';
import { Deadlines, daysLeftWords } from '../pieces/deadlines.tsx';
import { PostForm } from '../pieces/form.tsx';
import { Traced } from '../pieces/trace.tsx';
import { OwnWords } from '../pieces/words.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { BenchRow, BenchView, DangerRow } from './view.ts';

/** What needs a person now: is anyone in danger, what next, what will be late; then every case, dearest wait first. */
export function BenchPage(props: { shell: ShellView; view: BenchView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="bench" ownHeading first={<Answers view={view} />}>
      {view.danger.map((row) => (
        <Danger row={row} csrf={shell.csrf} />
      ))}
      {view.rows.length === 0 ? <Nothing view={view} /> : null}
      {view.rows.length > 0 ? (
        <section aria-labelledby="cases-heading">
          <h2 id="cases-heading" class="unseen">
            Cases, dearest wait first
          </h2>
          <p class="row-heads" aria-hidden="true">
            <span>Who</span>
            <span>What they said</span>
            <span>Likely cause</span>
            <span>What to do</span>
          </p>
          <ol class="rows">
            {view.rows.map((row) => (
              <Row row={row} csrf={shell.csrf} />
            ))}
          </ol>
        </section>
      ) : null}
      {(view.reminders ?? []).map((reminder) => (
        <p class="unsent">
          <a href={reminder.href}>{reminder.words}</a>
        </p>
      ))}
      {view.unsent ? (
        <p class="unsent">
          <a href={view.unsent.href}>{view.unsent.words}</a>
        </p>
      ) : null}
      {view.more > 0 ? (
        <p class="more">
          {view.moreHref ? <a href={view.moreHref}>{moreCases(view.more)}</a> : moreCases(view.more)}
        </p>
      ) : null}
    </Shell>
  );
}

const moreCases = (more: number): string => (more === 1 ? '1 more case' : `${more} more cases`);

/** So many ends stand on a line of their own, so many more by name behind them. */
const ENDS_IN_FULL = 2;
const ENDS_BY_NAME = 4;

function Answers(props: { view: BenchView }) {
  const { view } = props;
  const thenEnds = view.late.slice(ENDS_IN_FULL, ENDS_BY_NAME);
  const moreEnds = view.late.length - ENDS_BY_NAME;
  const first = view.rows.find((row) => row.act !== null);
  const firstDanger = view.danger.find((row) => row.hasIt === null) ?? view.danger[0];
  return (
    <>
      <h1 class="unseen">Bench</h1>
      <dl class="answers">
        <div class={view.danger.length > 0 ? 'in-danger' : ''}>
          <dt>In danger</dt>
          <dd>
            {view.danger.length === 0 && view.trayCount === 0 ? 'Nobody.' : null}
            {view.danger.length === 0 && view.trayCount > 0 ? (
              <>
                Nobody that we know of;
                <span class="aside">
                  {' '}
                  <a href="/tray">the tray has {view.trayCount} unread</a>
                </span>
              </>
            ) : null}
            {view.danger.length === 1 && firstDanger ? (
              <a href={`/cases/${firstDanger.caseId}`}>{firstDanger.wearer}</a>
            ) : null}
            {view.danger.length > 1 && firstDanger ? (
              <a href={`/cases/${firstDanger.caseId}`}>
                {firstDanger.wearer} and {view.danger.length - 1} more
              </a>
            ) : null}
            {firstDanger ? (
              <span class="aside">
                {firstDanger.hasIt ? ` ${firstDanger.hasIt} has it` : ' nobody is on it yet'}
              </span>
            ) : null}
          </dd>
        </div>
        <div>
          <dt>Next</dt>
          <dd>
            {firstDanger && firstDanger.hasIt === null ? (
              <>
                Ring <a href={`/cases/${firstDanger.caseId}`}>{firstDanger.wearer}</a>
                {firstDanger.phone ? <span class="aside"> {firstDanger.phone}</span> : null}
              </>
            ) : first?.act ? (
              <>
                {first.act.words}: <a href={`/cases/${first.caseId}`}>{first.wearer}</a>
                {first.cause ? <span class="aside"> {first.cause.name}</span> : null}
              </>
            ) : view.trayCount > 0 ? (
              <>
                <a href="/tray">Read the tray</a>
                <span class="aside"> {view.trayCount} waiting</span>
              </>
            ) : (
              'Nothing waits for a person.'
            )}
          </dd>
        </div>
        <div>
          <dt>Ending soon</dt>
          <dd>
            {view.late.length === 0 ? 'Nothing ends within a week.' : null}
            {view.late.slice(0, ENDS_IN_FULL).map((late, index) => (
              <span class="one-late">
                {index > 0 ? <span class="unseen">, then </span> : null}
                <a href={`/cases/${late.caseId}`}>{late.wearer}</a>
                <span class="aside">
                  {' '}
                  {daysLeftWords(late.daysLeft)}, {late.what}
                </span>
              </span>
            ))}
            {thenEnds.length > 0 ? (
              <span class="then">
                <span class="names">
                  {thenEnds.map((late, index) => (
                    <>
                      {index > 0 ? <span class="aside">, </span> : null}
                      <a href={`/cases/${late.caseId}`}>{late.wearer}</a>
                      <span class="aside"> {daysLeftWords(late.daysLeft)}</span>
                    </>
                  ))}
                </span>{' '}
                {moreEnds > 0 ? (
                  <a class="aside" href="#cases-heading">
                    and {moreEnds} more
                  </a>
                ) : null}
              </span>
            ) : null}
          </dd>
        </div>
      </dl>
    </>
  );
}

function Danger(props: { row: DangerRow; csrf: string }) {
  const { row } = props;
  const heading = `danger-${row.caseId}`;
  return (
    <section class="danger" aria-labelledby={heading}>
      <h2 id={heading}>
        <a href={`/cases/${row.caseId}`}>{row.wearer}</a> <span class="sign">may be in danger</span>
      </h2>
      <p class="said">
        <OwnWords words={row.words} /> <span class="when">{row.came}</span>
      </p>
      <div class="do">
        {row.phone ? (
          <a class="button act" href={`tel:${row.phone.replace(/[^+\d]/g, '')}`}>
            Ring now {row.phone}
          </a>
        ) : (
          <p>No number is known. Ring whoever can reach them.</p>
        )}
        {row.hasIt === null ? (
          <PostForm action={`/cases/${row.caseId}/have-it`} csrf={props.csrf} class="one-button">
            <button type="submit">
              I have it<span class="unseen">: {row.wearer}</span>
            </button>
          </PostForm>
        ) : (
          <p>
            <b>{row.hasIt}</b> has it.
          </p>
        )}
      </div>
      <p class="facts">
        {row.localTime}. {row.cautionReached ? row.caution : <strong>{row.caution}</strong>}. {row.told}. Not
        a diagnosis: local rules and the clinician come first.
      </p>
    </section>
  );
}

function Row(props: { row: BenchRow; csrf: string }) {
  const { row } = props;
  return (
    <li class="row" data-row>
      <div class="who">
        <h3>
          <a href={`/cases/${row.caseId}`} data-open>
            {row.wearer}
          </a>
        </h3>
        <p>
          {row.day === null ? 'day not known' : `day ${row.day}`}, <span class="soft">{row.pair}</span>
        </p>
        <p class="state">{row.state}</p>
      </div>
      <div class="said">
        {row.words ? (
          <OwnWords words={row.words} class="short" />
        ) : (
          <span class="soft">Nothing in writing.</span>
        )}
        <p class="when">{row.said}</p>
      </div>
      <div class="cause">
        {row.cause ? (
          <>
            <p class="name">
              {row.cause.name} <span class="share">{row.cause.share}</span>
            </p>
            <Traced trace={row.cause.trace}>{row.cause.number}</Traced>
          </>
        ) : (
          <p class="soft">{row.noCause}</p>
        )}
      </div>
      <div class="do">
        {row.act ? (
          <>
            <ActButton
              offer={row.act}
              caseId={row.caseId}
              seenVersion={row.version}
              csrf={props.csrf}
              about={row.wearer}
            />
            <span class="way">{row.act.way}</span>
          </>
        ) : (
          <p class="soft">{row.waitsFor}</p>
        )}
        <Deadlines deadlines={row.deadlines} />
        {row.cost ? <p class="cost">{row.cost}</p> : null}
      </div>
    </li>
  );
}

function Nothing(props: { view: BenchView }) {
  const { view } = props;
  if (view.firstSteps.length > 0) {
    return (
      <section class="first-steps" aria-labelledby="first-heading">
        <h2 id="first-heading">What to do first</h2>
        <ol>
          {view.firstSteps.map((step) => (
            <li class={step.done ? 'done' : ''}>
              {step.done ? (
                <>
                  <s>{step.words}</s> done
                </>
              ) : (
                <a href={step.href}>{step.words}</a>
              )}
            </li>
          ))}
        </ol>
      </section>
    );
  }
  return (
    <p class="quiet">
      No case needs a person. Answers that are due come in by themselves; see how everyone is getting on under{' '}
      <a href="/wearers">Wearers</a>.
    </p>
  );
}
