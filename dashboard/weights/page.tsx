import { PostForm } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { WeightsView } from './view.ts';

/** How the shop's own outcomes have moved the starting weights of the causes; each can be taken back. */
export function WeightsPage(props: { shell: ShellView; view: WeightsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="weights">
      <p>{view.counted}</p>
      {view.moved.length > 0 ? (
        <WideTable label="Starting weights that have moved">
          <table>
            <thead>
              <tr>
                <th scope="col">Cause</th>
                <th scope="col">Catalogue</th>
                <th scope="col">Here</th>
                <th scope="col">Own cases</th>
              </tr>
            </thead>
            <tbody>
              {view.moved.map((line) => (
                <tr>
                  <th scope="row">{line.cause}</th>
                  <td>{line.from}</td>
                  <td>{line.to}</td>
                  <td>{line.cases}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      ) : null}
      <h2>Outcomes that count</h2>
      {view.outcomes.length === 0 ? (
        <p class="soft">None yet: close a case with what it was, and how you know.</p>
      ) : (
        <ul class="plain-list">
          {view.outcomes.map((line) => (
            <li>
              {line.wearer}, {line.job}: {line.cause}, {line.how}, {line.when}
              {line.leftOut ? ' (left out)' : ''}
              <PostForm action="/weights" csrf={shell.csrf} class="one-button">
                <input type="hidden" name="pair_id" value={line.pairId} />
                <button type="submit" name="act" value={line.leftOut ? 'counted again' : 'left out'}>
                  {line.leftOut ? 'Count it again' : 'Leave it out'}
                </button>
              </PostForm>
            </li>
          ))}
        </ul>
      )}
      <h2>What was suggested, and what was done</h2>
      {view.suggestions.length === 0 ? (
        <p class="soft">Nothing was done on a case yet.</p>
      ) : (
        <ul class="plain-list">
          {view.suggestions.map((line) => (
            <li>
              {line.act}: taken {line.taken} times, changed {line.changed} times
            </li>
          ))}
        </ul>
      )}
    </Shell>
  );
}
