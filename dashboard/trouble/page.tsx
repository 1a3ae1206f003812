import { BarePage } from '../shell/page.tsx';
import type { TroublePageView } from './view.ts';

/** Says what is wrong and how to go on: a page that is not there, a refused form, an unexpected error. */
export function TroublePage(props: { view: TroublePageView }) {
  const { view } = props;
  return (
    <BarePage title={view.what}>
      <h1>{view.what}</h1>
      <p class="lead">{view.mend}</p>
      {view.problems.length > 0 ? (
        <ul class="problems">
          {view.problems.map((problem) => (
            <li>
              <b>{problem.what}</b> {problem.where ? <span class="soft">({problem.where})</span> : null}{' '}
              {problem.mend}
            </li>
          ))}
        </ul>
      ) : null}
      {view.logMark ? (
        <p class="soft">
          The log has it under <code>{view.logMark}</code>.
        </p>
      ) : null}
      {view.side.length > 0 ? (
        <nav aria-label="Pages">
          <ul class="ways-on">
            {view.side.map((link) => (
              <li>
                <a href={link.href}>{link.text}</a>
              </li>
            ))}
          </ul>
        </nav>
      ) : null}
      <p class="soft">Status {view.status}</p>
    </BarePage>
  );
}
