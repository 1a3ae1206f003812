import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { ClaimLine, ClaimsView } from './view.ts';

const STEP_WORDS = {
  asked: 'asked the lab',
  sent: 'sent the lenses back',
  promised: 'the lab has promised',
  credited: 'the lab has credited',
} as const;

/** What was asked of the labs for pairs made again, what has to go back by when, what is promised and what has come. */
export function ClaimsPage(props: { shell: ShellView; view: ClaimsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="claims">
      {view.lines.length === 0 ? (
        <p class="quiet">
          Nothing is asked of a lab. A pair that is made again at the lab’s cost comes here by itself, and a
          claim that is noted on a case.
        </p>
      ) : null}
      <ol class="ring-rows">
        {view.lines.map((line) => (
          <Line line={line} view={view} csrf={shell.csrf} />
        ))}
      </ol>
    </Shell>
  );
}

function Line(props: { line: ClaimLine; view: ClaimsView; csrf: string }) {
  const { line, view } = props;
  const refused = view.refused === line.jobId;
  const trouble = (name: string) => (refused ? troubleOf(view.troubles, name) : undefined);
  const value = (name: string) => (refused ? typedBefore(view.values, name) : undefined);
  return (
    <li class="ring-row" data-row>
      <div class="who">
        <h2>
          <a href={line.jobHref} data-open>
            Job {line.jobNumber}
          </a>
        </h2>
        <p>{line.wearer}</p>
        <p class="soft">{line.lab === '' ? 'lab not known' : line.lab}</p>
      </div>
      <div>
        <p>{line.stands}</p>
        {line.reminder ? <p class="caution">{line.reminder}</p> : null}
      </div>
      {line.steps.length > 0 ? (
        <PostForm action={`/claims/${line.jobId}`} csrf={props.csrf} class="do">
          <Select
            name="what"
            id={`what-${line.jobId}`}
            label="Note that we or they"
            choices={line.steps.map((step) => ({ value: step, words: STEP_WORDS[step] }))}
            value={value('what')}
            trouble={trouble('what')}
          />
          <Field
            name="amount"
            id={`amount-${line.jobId}`}
            label="Amount, if any"
            inputmode="decimal"
            value={value('amount')}
            trouble={trouble('amount')}
          />
          <Field
            name="send_back_by"
            id={`by-${line.jobId}`}
            label="Lenses to go back by"
            type="date"
            value={value('send_back_by')}
            trouble={trouble('send_back_by')}
          />
          <button type="submit">
            Note it<span class="unseen">: job {line.jobNumber}</span>
          </button>
        </PostForm>
      ) : null}
    </li>
  );
}
