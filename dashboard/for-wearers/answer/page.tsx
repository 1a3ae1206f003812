import { WearerSheet } from '../sheet.tsx';
import { COMMON } from '../words.ts';
import type { AnswerView } from './view.ts';

const WORDS = {
  en: {
    title: 'How are your new glasses?',
    one: 'Seeing well',
    two: 'Getting there',
    three: 'Something is not right',
    four: 'Not wearing them',
    five: 'Please ring me',
    own: 'Or tell us in your own words',
    thanks: 'Thank you',
  },
  es: {
    title: '¿Qué tal sus lentes nuevos?',
    one: 'Veo bien',
    two: 'Voy mejorando',
    three: 'Algo no va bien',
    four: 'No los uso',
    five: 'Llámenme, por favor',
    own: 'O díganoslo con sus palabras',
    thanks: 'Gracias',
  },
} as const;

/** Answer with one tap or in own words. */
export function AnswerPage(props: { view: AnswerView }) {
  const { view } = props;
  const words = WORDS[view.about.lang];
  if (view.thanks !== null) {
    return (
      <WearerSheet about={view.about} title={words.thanks} page="">
        <p>{view.thanks}</p>
      </WearerSheet>
    );
  }
  const answers = view.question?.answers ?? [
    { key: '1', words: words.one },
    { key: '2', words: words.two },
    { key: '3', words: words.three },
    { key: '4', words: words.four },
    { key: '5', words: words.five },
  ];
  return (
    <WearerSheet about={view.about} title={view.question?.text ?? words.title} page="">
      <form method="post" action={`${view.about.base}/answer`} class="big-answers">
        <input type="hidden" name="lang" value={view.about.lang} />
        {view.question ? <input type="hidden" name="question_id" value={view.question.id} /> : null}
        {answers.map((answer) => (
          <button type="submit" name="answer" value={answer.key}>
            <b>{answer.key}</b> {answer.words}
          </button>
        ))}
      </form>
      <form method="post" action={`${view.about.base}/answer`} class="own-answer">
        <input type="hidden" name="lang" value={view.about.lang} />
        <label for="own-text">{words.own}</label>
        <textarea id="own-text" name="text" rows={4} required></textarea>
        <button type="submit" class="act">
          {COMMON[view.about.lang].send}
        </button>
      </form>
    </WearerSheet>
  );
}
