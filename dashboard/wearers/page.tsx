import { SettlingStrip, StripKey, StripScale } from '../pictures/strip/picture.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { WearersView } from './view.ts';

/** Everyone in their first weeks, one line of thirty days each. */
export function WearersPage(props: { shell: ShellView; view: WearersView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="wearers">
      <form method="get" action="/wearers" class="inline-find">
        <label for="wearers-q">Name, number or job</label>
        <input id="wearers-q" type="search" name="q" value={view.q} autocomplete="off" />
        <label for="wearers-show" class="unseen">
          Show
        </label>
        <select id="wearers-show" name="show">
          <option value="settling" selected={view.show === 'settling'}>
            in their first 30 days
          </option>
          <option value="all" selected={view.show === 'all'}>
            everyone
          </option>
        </select>
        <button type="submit">Show</button>
      </form>
      {view.lines.length === 0 ? (
        <p class="quiet">
          {view.q !== '' ? (
            `Nobody found for “${view.q}”.`
          ) : (
            <>
              Nobody is in their first weeks. A wearer comes here with the hand-over of a pair:{' '}
              <a href="/deliveries">Deliveries</a>.
            </>
          )}
        </p>
      ) : (
        <>
          <StripKey />
          <div class="strip-head" aria-hidden="true">
            <span class="soft">day of wear</span>
            <StripScale />
          </div>
          <ol class="wearer-lines">
            {view.lines.map((line) => (
              <li data-row>
                <div class="who">
                  <a href={line.href} data-open>
                    {line.name}
                  </a>
                  <span class="soft"> {line.day === null ? 'not worn yet' : `day ${line.day}`}</span>
                </div>
                <SettlingStrip
                  marks={line.marks}
                  stretches={line.stretches}
                  today={line.day}
                  name={line.name}
                />
                <p class="standing">
                  {line.caseHref ? <a href={line.caseHref}>{line.standing}</a> : line.standing}
                  <span class="soft pair">{line.pair}</span>
                </p>
              </li>
            ))}
          </ol>
          <p class="range">
            {view.previousHref ? <a href={view.previousHref}>before</a> : null} {view.range}{' '}
            {view.nextHref ? <a href={view.nextHref}>more</a> : null}
          </p>
        </>
      )}
    </Shell>
  );
}
