import { Select } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LettersView } from './view.ts';

/** Every message as it will arrive. */
export function LettersPage(props: { shell: ShellView; view: LettersView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="letters">
      <form method="get" action="/letters" class="line-form">
        <Select
          name="locale"
          id="letters-locale"
          label="Language"
          value={view.locale}
          choices={[
            { value: 'en', words: 'English' },
            { value: 'es', words: 'Spanish' },
          ]}
        />
        <Select
          name="channel"
          id="letters-channel"
          label="By"
          value={view.channel}
          choices={[
            { value: 'all', words: 'text and email' },
            { value: 'text', words: 'text' },
            { value: 'email', words: 'email' },
          ]}
        />
        <button type="submit">Show</button>
      </form>
      {view.cannot.map((line) => (
        <p class="caution">
          {line} <a href="/shop">Shop</a>
        </p>
      ))}
      {view.groups.map((group, index) => (
        <section aria-labelledby={`letters-${index}`}>
          <h2 id={`letters-${index}`}>{group.name}</h2>
          <ul class="letter-list">
            {group.letters.map((letter) => (
              <li>
                <h3>
                  {letter.name} <span class="unit">by {letter.channel}</span>
                </h3>
                {letter.subject ? <p class="subject">{letter.subject}</p> : null}
                <p class="body" lang={view.locale}>
                  {letter.body}
                </p>
                <p class="hint">
                  {letter.goes}
                  {letter.size ? `; ${letter.size}` : ''}; {letter.templateId} {letter.templateVersion}
                </p>
              </li>
            ))}
          </ul>
        </section>
      ))}
      <section aria-labelledby="letters-pages">
        <h2 id="letters-pages">Pages behind links</h2>
        <p class="hint">
          {view.withLinks
            ? 'A link is made when the letter leaves, is good for one thing, and runs out; here its place is held.'
            : 'The shop has no public address: letters go without links, and these pages are not reached yet.'}
        </p>
        <ul class="plain-list">
          {view.pages.map((page) => (
            <li>
              <a href={page.href}>{page.name}</a> <span class="soft">{page.opens}</span>
            </li>
          ))}
        </ul>
      </section>
    </Shell>
  );
}
