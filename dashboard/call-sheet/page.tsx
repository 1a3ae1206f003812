import { Field, PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { OwnWords } from '../pieces/words.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { CallSheetView } from './view.ts';

const HOW_IT_GOES = [
  { value: '1', words: 'seeing well' },
  { value: '2', words: 'getting there' },
  { value: '3', words: 'something is not right' },
  { value: '4', words: 'not wearing them' },
];

/** What to say and tap while speaking with a wearer. */
export function CallSheetPage(props: { shell: ShellView; view: CallSheetView }) {
  const { shell, view } = props;
  const { values = {}, troubles = [] } = view;
  const textTrouble = troubleOf(troubles, 'text');
  return (
    <Shell shell={shell} class="call-sheet">
      <p class="call-number">
        {view.phone ? (
          <a class="button act" href={`tel:${view.phone.replace(/[^+\d]/g, '')}`}>
            Ring {view.phone}
          </a>
        ) : (
          'No number is known.'
        )}
      </p>
      <p>
        {view.pair}. {view.localTime}. {view.why}.
      </p>
      <blockquote>{view.opening}</blockquote>
      {view.lastWords ? (
        <p>
          Last said: <OwnWords words={view.lastWords.words} /> <span class="when">{view.lastWords.when}</span>
        </p>
      ) : null}
      <div class="caution">
        <p>If any of these is said, stop here, ask for an examination today and write it down:</p>
        <ul class="listen-for">
          {view.listenFor.map((sign) => (
            <li>{sign}</li>
          ))}
        </ul>
      </div>
      {view.question && view.caseId ? (
        <section aria-labelledby="ask-heading">
          <h2 id="ask-heading">Ask</h2>
          <p class="asked-words">{view.question.text}</p>
          <PostForm action={`/ring-list/${view.ringId}/answer`} csrf={shell.csrf} class="answers-list">
            <input type="hidden" name="question_id" value={view.question.id} />
            {view.question.answers.map((answer) => (
              <button type="submit" name="answer" value={answer.key} class="tap">
                <b>{answer.key}</b> {answer.words}
              </button>
            ))}
          </PostForm>
        </section>
      ) : null}
      <section aria-labelledby="said-heading">
        <h2 id="said-heading">What they said</h2>
        <PostForm action={`/ring-list/${view.ringId}/said`} csrf={shell.csrf} class="said-form">
          {view.once ? <input type="hidden" name="once" value={view.once} /> : null}
          <fieldset>
            <legend>How it goes</legend>
            <div class="buttons">
              {HOW_IT_GOES.map((answer) => (
                <label class="tick">
                  <input
                    type="radio"
                    name="answer"
                    value={answer.value}
                    checked={typedBefore(values, 'answer') === answer.value}
                  />{' '}
                  {answer.words}
                </label>
              ))}
            </div>
          </fieldset>
          <label for="said-text">In their own words</label>
          {textTrouble ? (
            <p class="mend" id="said-text-trouble">
              {textTrouble}
            </p>
          ) : null}
          <textarea
            id="said-text"
            name="text"
            rows={3}
            aria-describedby={textTrouble ? 'said-text-trouble' : undefined}
            aria-invalid={textTrouble ? 'true' : undefined}
          >
            {typedBefore(values, 'text') ?? ''}
          </textarea>
          <button type="submit" class="act">
            Spoke: keep it
          </button>
        </PostForm>
      </section>
      <section aria-labelledby="not-heading">
        <h2 id="not-heading">Did not speak</h2>
        <p class="hint">{view.voiceMessage}</p>
        <PostForm action={`/ring-list/${view.ringId}/attempt`} csrf={shell.csrf} class="line-form">
          <button type="submit" name="what" value="no answer">
            No answer
          </button>
          <button type="submit" name="what" value="left message">
            Left name and number
          </button>
          <button type="submit" name="what" value="wrong number">
            Wrong number
          </button>
          <Field
            name="again_at"
            id="again-at"
            label="Again at, by our clock"
            type="datetime-local"
            trouble={troubleOf(troubles, 'again_at')}
          />
          <button type="submit" name="what" value="again at">
            Ring again then
          </button>
        </PostForm>
        {view.attempts.length > 0 ? (
          <ul class="attempts">
            {view.attempts.map((attempt) => (
              <li>{attempt}</li>
            ))}
          </ul>
        ) : null}
      </section>
    </Shell>
  );
}
