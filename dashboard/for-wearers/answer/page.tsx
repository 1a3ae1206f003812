import { Ringable, WearerSheet } from '../sheet.tsx';
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
    before: 'We have an answer of yours. You can send another; we keep both.',
    photo: 'A photo, if it helps',
    kept: 'We look at the photo only to help you. It is removed 30 days after your case is closed.',
    stop: 'To get no more messages, write STOP here.',
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
    before: 'Ya tenemos una respuesta suya. Puede enviar otra; guardamos las dos.',
    photo: 'Una foto, si ayuda',
    kept: 'Miramos la foto solo para ayudarle. Se borra 30 días después de cerrar su caso.',
    stop: 'Para no recibir más mensajes, escriba ALTO aquí.',
  },
} as const;

/** Answer with one tap or in own words. */
export function AnswerPage(props: { view: AnswerView }) {
  const { view } = props;
  const words = WORDS[view.about.lang];
  if (view.thanks !== null) {
    return (
      <WearerSheet about={view.about} title={words.thanks} page="">
        {view.caution.length > 0 ? (
          <div class="caution" role="alert">
            {view.caution.map((line) => (
              <p>
                <Ringable words={line} />
              </p>
            ))}
          </div>
        ) : null}
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
      {view.answered ? <p class="hint">{words.before}</p> : null}
      {view.trouble ? (
        <p class="mend" role="alert">
          {view.trouble}
        </p>
      ) : null}
      <form method="post" action={view.about.base} class="big-answers">
        <input type="hidden" name="lang" value={view.about.lang} />
        {answers.map((answer) => (
          <button type="submit" name="answer" value={answer.key}>
            <b>{answer.key}</b> {answer.words}
          </button>
        ))}
      </form>
      <form method="post" action={view.about.base} enctype="multipart/form-data" class="own-answer">
        <input type="hidden" name="lang" value={view.about.lang} />
        <label for="own-text">{words.own}</label>
        <textarea id="own-text" name="text" rows={4} maxlength={5000} aria-describedby="own-stop"></textarea>
        <p class="hint" id="own-stop">
          {words.stop}
        </p>
        <label for="own-photo">{words.photo}</label>
        <input
          id="own-photo"
          type="file"
          name="photo"
          accept="image/jpeg,image/png,image/webp"
          aria-describedby="own-kept"
        />
        <p class="hint" id="own-kept">
          {words.kept}
        </p>
        <button type="submit" class="act">
          {COMMON[view.about.lang].send}
        </button>
      </form>
    </WearerSheet>
  );
}
