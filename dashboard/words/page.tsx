import { WideTable } from '../pieces/table.tsx';
import { OwnWords } from '../pieces/words.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import { KeptAnswers } from './kept.tsx';
import type { WordsView } from './view.ts';

/** Try a sentence; see every label and what it means; see what staff corrected. */
export function WordsPage(props: { shell: ShellView; view: WordsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="words">
      <section aria-labelledby="try-heading">
        <h2 id="try-heading">Try a sentence</h2>
        <form method="get" action="/words" class="try-form">
          <label for="try-text">As a wearer would write it; nothing is kept</label>
          <textarea id="try-text" name="text" rows={2} lang={view.locale}>
            {view.tried}
          </textarea>
          <div class="send-line">
            <label for="try-locale">Language</label>
            <select id="try-locale" name="locale">
              <option value="en" selected={view.locale === 'en'}>
                English
              </option>
              <option value="es" selected={view.locale === 'es'}>
                Spanish
              </option>
            </select>
            <label for="try-asked">after</label>
            <select id="try-asked" name="asked">
              <option value="none" selected={view.asked === 'none'}>
                no question
              </option>
              <option value="check-in" selected={view.asked === 'check-in'}>
                “how are they going?”
              </option>
            </select>
            <button type="submit" class="act">
              Read it
            </button>
          </div>
        </form>
        {view.reading ? <Reading reading={view.reading} /> : null}
      </section>
      <section aria-labelledby="corrections-heading">
        <h2 id="corrections-heading">Corrected by us</h2>
        {view.corrections.length === 0 ? (
          <p class="soft">Nothing yet. A reading is mended in the tray or on a case.</p>
        ) : (
          <WideTable label="Corrections" blocks>
            <table>
              <thead>
                <tr>
                  <th scope="col">Words</th>
                  <th scope="col">Read as</th>
                  <th scope="col">Is</th>
                  <th scope="col">By</th>
                </tr>
              </thead>
              <tbody>
                {view.corrections.map((correction) => (
                  <tr>
                    <td>
                      <q class="own-words" lang={correction.lang}>
                        {correction.words}
                      </q>
                    </td>
                    <td data-is="read as">{correction.before.join('; ') || 'nothing'}</td>
                    <td>
                      {correction.after.join('; ') || 'nothing'}
                      {correction.why ? <span class="remark">{correction.why}</span> : null}
                    </td>
                    <td>
                      {correction.by}, {correction.when}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        )}
      </section>
      <KeptAnswers kept={view.kept} csrf={shell.csrf} locale={view.locale} />
      <section aria-labelledby="labels-heading">
        <h2 id="labels-heading">What is read</h2>
        <div class="label-groups">
          {view.labelGroups.map((group) => (
            <div>
              <h3>{group.name}</h3>
              <dl>
                {group.labels.map((label) => (
                  <div>
                    <dt>{label.id}</dt>
                    <dd>{label.means}</dd>
                  </div>
                ))}
              </dl>
            </div>
          ))}
        </div>
        <p class="hint">Sorter {view.sorterVersion}.</p>
      </section>
    </Shell>
  );
}

function Reading(props: { reading: NonNullable<WordsView['reading']> }) {
  const { reading } = props;
  return (
    <div class="reading" role="status">
      <p>
        <OwnWords words={reading.words} />
      </p>
      {reading.urgent ? <p class="mend">A danger sign: a person at once.</p> : null}
      {reading.labels.length === 0 ? <p>Nothing is read in it.</p> : null}
      <ul>
        {reading.labels.map((label) => (
          <li>
            <b>{label.means}</b> <span class="soft">{label.id}</span>
            {label.passages.length > 0 ? ` from “${label.passages.join('”, “')}”` : ''}
          </li>
        ))}
      </ul>
      {reading.asks.length > 0 ? <p>Asks about: {reading.asks.join(', ')}.</p> : null}
      <ul class="would-list">
        {reading.would.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
    </div>
  );
}
