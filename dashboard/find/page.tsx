import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { FindView } from './view.ts';

/** Hits for a name, number, address or job. */
export function FindPage(props: { shell: ShellView; view: FindView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="find-page">
      {view.hits.length === 0 ? (
        <p class="quiet">
          Nobody and nothing found for “{view.q}”. Part of a name, the last digits or a job number will do.
        </p>
      ) : null}
      <ol class="hits">
        {view.hits.map((hit) => (
          <li data-row>
            <a href={hit.href} data-open>
              {hit.name}
            </a>{' '}
            <span class="soft">{hit.detail}</span>{' '}
            {hit.callHref ? (
              <a href={hit.callHref}>
                Call sheet<span class="unseen">: {hit.name}</span>
              </a>
            ) : null}
          </li>
        ))}
      </ol>
    </Shell>
  );
}
