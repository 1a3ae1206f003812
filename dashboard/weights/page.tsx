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
      <p class="lead">
        Before any number of a job is known, each cause starts with a weight. The catalogue’s weights stand
        for {view.priorCases} cases (common practice, no source);{' '}
        <b>
          {view.counted === 0
            ? 'no outcome of this shop counts beside them yet'
            : view.counted === 1
              ? '1 outcome of this shop counts beside them'
              : `${view.counted} outcomes of this shop count beside them`}
        </b>
        . An outcome counts when a case is closed with a cause that was found at the bench or cured by the
        act.
      </p>
      <div class="weights-sheet">
        <Moved view={view} />
        <Suggestions view={view} />
      </div>
      <Outcomes view={view} csrf={shell.csrf} />
    </Shell>
  );
}

function Moved(props: { view: WeightsView }) {
  const { moved } = props.view;
  const most = Math.max(1, ...moved.flatMap(({ here, catalogue }) => [here, catalogue]));
  return (
    <section aria-labelledby="moved-heading">
      <h2 id="moved-heading">Weights that have moved</h2>
      {moved.length === 0 ? (
        <p class="soft">None: every cause starts where the catalogue has it.</p>
      ) : (
        <WideTable label="Weights that have moved, of 100 troubles">
          <table>
            <thead>
              <tr>
                <th scope="col">Of 100 troubles</th>
                <th scope="col">
                  <span class="unseen">Picture</span>
                </th>
                <th scope="col">Catalogue</th>
                <th scope="col">Here</th>
                <th scope="col">Own cases</th>
              </tr>
            </thead>
            <tbody>
              {moved.map((line) => (
                <tr>
                  <th scope="row">{line.cause}</th>
                  <td>
                    <svg viewBox="0 0 120 14" class="weight-bar" role="img" aria-label={line.words}>
                      <path d={`M0 7 H${(118 * line.here) / most}`} class="here" />
                      <path d={`M${(118 * line.catalogue) / most} 0 v14`} class="was" />
                    </svg>
                  </td>
                  <td>{line.catalogue.toFixed(1)}</td>
                  <td>
                    <b>{line.here.toFixed(1)}</b>
                  </td>
                  <td>{line.cases}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      )}
      {moved.length > 0 ? (
        <p class="hint">The bar is the weight here; the stroke is the catalogue’s.</p>
      ) : null}
    </section>
  );
}

function Suggestions(props: { view: WeightsView }) {
  const { view } = props;
  return (
    <section aria-labelledby="suggestions-heading">
      <h2 id="suggestions-heading">How often you changed the suggestion</h2>
      <p>{view.changedWords}</p>
      {view.suggestions.length > 0 ? (
        <WideTable label="Suggestions and what was done">
          <table>
            <thead>
              <tr>
                <th scope="col">Suggested</th>
                <th scope="col">Times</th>
                <th scope="col">Something else was done</th>
              </tr>
            </thead>
            <tbody>
              {view.suggestions.map((line) => (
                <tr>
                  <th scope="row">{line.act}</th>
                  <td>{line.suggested}</td>
                  <td>{line.changed}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      ) : null}
    </section>
  );
}

function Outcomes(props: { view: WeightsView; csrf: string }) {
  const { outcomes } = props.view;
  return (
    <section aria-labelledby="outcomes-heading">
      <h2 id="outcomes-heading">Outcomes behind them</h2>
      {outcomes.length === 0 ? (
        <p class="soft">None yet: close a case with what it was, and how you know.</p>
      ) : (
        <>
          <p class="hint">
            Leave one out where the cause was not really known. It holds from the next weighing; rankings that
            were kept stay as they were shown.
          </p>
          <WideTable label="Outcomes whose cause was confirmed" blocks>
            <table>
              <thead>
                <tr>
                  <th scope="col">Wearer</th>
                  <th scope="col">Cause</th>
                  <th scope="col">Known how</th>
                  <th scope="col">Closed</th>
                  <th scope="col">Counts</th>
                </tr>
              </thead>
              <tbody>
                {outcomes.map((line) => (
                  <tr class={line.leftOut ? 'left-out' : ''}>
                    <th scope="row">
                      {line.wearer} <span class="unit">{line.job}</span>
                    </th>
                    <td>{line.cause}</td>
                    <td data-is="known how">{line.how}</td>
                    <td data-is="closed">{line.when}</td>
                    <td>
                      <PostForm action="/weights" csrf={props.csrf} class="one-button">
                        <input type="hidden" name="pair_id" value={line.pairId} />
                        <span>{line.leftOut ? 'no' : 'yes'}</span>{' '}
                        <button type="submit" name="act" value={line.leftOut ? 'counted again' : 'left out'}>
                          {line.leftOut ? 'Count it again' : 'Leave it out'}
                          <span class="unseen">
                            : {line.wearer}, {line.job}
                          </span>
                        </button>
                      </PostForm>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        </>
      )}
    </section>
  );
}
