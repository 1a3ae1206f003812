import { PostForm } from '../pieces/form.tsx';
import { Traced } from '../pieces/trace.tsx';
import type { CaseView, CauseView, Evidence, QuestionView } from './view.ts';

/** What is probably wrong, each with the facts for and against, and the one question that splits them. */
export function Causes(props: { view: CaseView; csrf: string }) {
  const { view } = props;
  return (
    <section class="causes" aria-labelledby="causes-heading">
      <h2 id="causes-heading">Probably</h2>
      {view.causes.length === 0 ? <p class="soft">{view.notRanked}</p> : null}
      <ol class="cause-list">
        {view.causes.map((cause, index) => (
          <Cause cause={cause} open={index === 0} />
        ))}
      </ol>
      {view.causes.length > 0 ? (
        <p class="weighed">Support for a licensed person; confirm at the bench. {view.weighed}.</p>
      ) : null}
      {view.question && !view.closed ? (
        <Question question={view.question} view={view} csrf={props.csrf} />
      ) : null}
    </section>
  );
}

function Cause(props: { cause: CauseView; open: boolean }) {
  const { cause } = props;
  return (
    <li>
      <details class="cause" open={props.open}>
        <summary>
          <span class="name">{cause.name}</span> <span class="share">{cause.shareWords}</span>
          <svg class="share-bar" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
            <path class="whole" d="M0 2 H100" />
            <path class="part" d={`M0 2 H${Math.round(cause.share * 100)}`} />
          </svg>
        </summary>
        <p class="what">
          {cause.what} <span class="soft">Usually borne by: {cause.bears}.</span>
        </p>
        {cause.evidence.length === 0 ? <p class="soft">No number speaks for or against it yet.</p> : null}
        <ul class="evidence">
          {cause.evidence.map((evidence) => (
            <EvidenceLine evidence={evidence} />
          ))}
        </ul>
        {cause.caution ? <p class="caution">{cause.caution}</p> : null}
      </details>
    </li>
  );
}

function EvidenceLine(props: { evidence: Evidence }) {
  const { evidence } = props;
  const speaksFor = evidence.toward === 'for';
  return (
    <li class={evidence.toward}>
      <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
        <path d={speaksFor ? 'M6 1 L11 11 L1 11 Z' : 'M1 1 L11 1 L6 11 Z'} />
      </svg>
      <div>
        <Traced trace={evidence.trace}>
          {evidence.fact} <b>{evidence.value}</b>
        </Traced>
        <span class="times">
          {' '}
          {speaksFor ? 'for' : 'against'}, ×{timesWords(evidence.times)}
        </span>
        <span class="from"> {evidence.from}</span>
      </div>
    </li>
  );
}

/** One digit under 10, whole numbers above: more would pretend to know. */
const timesWords = (times: number): string =>
  times >= 10 ? String(Math.round(times)) : String(Math.round(times * 10) / 10);

function Question(props: { question: QuestionView; view: CaseView; csrf: string }) {
  const { question, view } = props;
  const usable = view.channels.filter((channel) => channel.cannot === null);
  return (
    <div class="question">
      <h3>
        Ask next:{' '}
        <span class="asked-words" lang={question.lang}>
          {question.text}
        </span>
      </h3>
      <PostForm
        action={`/cases/${view.caseId}/answer`}
        csrf={props.csrf}
        class="answers-list"
        label="Answer had by voice"
      >
        <input type="hidden" name="question_id" value={question.id} />
        {question.answers.map((answer) => (
          <button type="submit" name="answer" value={answer.key} class="tap" title={answer.would}>
            <b>{answer.key}</b> {answer.words}
          </button>
        ))}
      </PostForm>
      {question.canAsk && usable.length > 0 ? (
        <PostForm action={`/cases/${view.caseId}/question`} csrf={props.csrf} class="answers-list">
          <input type="hidden" name="question_id" value={question.id} />
          {usable.map((channel) => (
            <button type="submit" name="channel" value={channel.value}>
              Ask {channel.words}
            </button>
          ))}
        </PostForm>
      ) : null}
      <p class="hint">
        {question.inEnglish ? `In English: ${question.inEnglish} ` : ''}
        {question.standing}. Tap an answer that you have by voice. It splits {question.splits}:{' '}
        {question.answers.map((answer) => `${answer.key} ${answer.would}`).join(', ')}.
      </p>
    </div>
  );
}
