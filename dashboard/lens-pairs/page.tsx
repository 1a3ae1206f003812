import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LensPairsView } from './view.ts';

/** The pairs behind one number of the review, by job number; whose they are stands on the job. */
export function LensPairsPage(props: { shell: ShellView; view: LensPairsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="lens-pairs">
      <p class="lead">{view.what}</p>
      <p>{view.count}</p>
      {view.lines.length > 0 ? (
        <WideTable label="Pairs" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">Job</th>
                <th scope="col">Handed over</th>
                <th scope="col">Lens design</th>
                <th scope="col">How it ended</th>
                <th scope="col">Why</th>
                <th scope="col">Answers</th>
              </tr>
            </thead>
            <tbody>
              {view.lines.map((line) => (
                <tr>
                  <th scope="row">
                    <a href={line.href}>{line.jobNumber}</a>
                  </th>
                  <td data-is="handed over">{line.handedOver}</td>
                  <td>{line.design}</td>
                  <td data-is="ended">{line.outcome}</td>
                  <td data-is="why">{line.reason}</td>
                  <td data-is="answers">{line.looks}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      ) : null}
      {view.more > 0 ? <p class="soft">And {view.more} more; the newest are shown.</p> : null}
      <p class="hint">{view.method}</p>
      <p>
        <a href={view.backHref}>Back to Lens designs</a>
      </p>
    </Shell>
  );
}
