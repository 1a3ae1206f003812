import { PostForm } from '../pieces/form.tsx';
import type { WordsView } from './view.ts';

/** What is answered to questions that wearers always put, by us or in the shop's own words. */
export function KeptAnswers(props: { kept: WordsView['kept']; csrf: string; locale: 'en' | 'es' }) {
  const { kept, csrf, locale } = props;
  return (
    <section aria-labelledby="kept-heading" id="kept">
      <h2 id="kept-heading">Kept answers, {locale === 'es' ? 'Spanish' : 'English'}</h2>
      <p class="hint">
        Sent once when a wearer asks. “{kept.ending}” is put at the end by itself. Empty: our words stand;
        where we have none, the question goes to a person. <a href={kept.otherHref}>{kept.otherWords}</a>
      </p>
      {kept.answers.map((answer) => (
        <PostForm action="/words/kept" csrf={csrf}>
          <input type="hidden" name="ask" value={answer.ask} />
          <input type="hidden" name="locale" value={locale} />
          <div class="field wide">
            <label for={`kept-${answer.ask}`}>{answer.about}</label>
            <p class="hint" id={`kept-${answer.ask}-hint`}>
              {answer.ours === '' ? 'Off: a person answers, until you write it.' : `Ours: ${answer.ours}`}
            </p>
            {answer.trouble ? (
              <p class="mend" id={`kept-${answer.ask}-trouble`}>
                {answer.trouble}
              </p>
            ) : null}
            <textarea
              id={`kept-${answer.ask}`}
              name="text"
              rows={2}
              lang={locale}
              aria-describedby={
                answer.trouble
                  ? `kept-${answer.ask}-trouble kept-${answer.ask}-hint`
                  : `kept-${answer.ask}-hint`
              }
            >
              {answer.own}
            </textarea>
          </div>
          <button type="submit">
            Keep<span class="unseen"> the answer: {answer.about}</span>
          </button>
        </PostForm>
      ))}
    </section>
  );
}
