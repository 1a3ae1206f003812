import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { DeliveriesView } from './view.ts';

/** Jobs on their way to a wearer, and those that have arrived. */
export function DeliveriesPage(props: { shell: ShellView; view: DeliveriesView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="deliveries">
      <p class="ways">
        <a class="button act" href="/deliveries/new">
          Type in a job
        </a>{' '}
        <a class="button" href="/deliveries/import">
          Take in a file
        </a>
      </p>
      <form method="get" action="/deliveries" class="inline-find">
        <label for="deliveries-q">Name or job</label>
        <input id="deliveries-q" type="search" name="q" value={view.q} autocomplete="off" />
        <label for="deliveries-show" class="unseen">
          Show
        </label>
        <select id="deliveries-show" name="show">
          <option value="open" selected={view.show === 'open'}>
            not handed over yet
          </option>
          <option value="all" selected={view.show === 'all'}>
            all
          </option>
        </select>
        <button type="submit">Show</button>
      </form>
      {view.silentCount > 0 ? (
        <p class="soft">
          {view.silentCount === 1 ? 'One job has' : `${view.silentCount} jobs have`} no number, no address or
          no consent: taken in, counted, never messaged.
        </p>
      ) : null}
      {view.lines.length === 0 ? (
        <p class="quiet">
          {view.q !== ''
            ? `No job found for “${view.q}”.`
            : 'No job here. Type one in, or take in a file from your order book: a spreadsheet saved as CSV will do.'}
        </p>
      ) : (
        <WideTable label="Jobs" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">Wearer</th>
                <th scope="col">Job</th>
                <th scope="col">Pair</th>
                <th scope="col">How it stands</th>
                <th scope="col">Next</th>
              </tr>
            </thead>
            <tbody>
              {view.lines.map((line) => (
                <tr data-row>
                  <th scope="row">
                    {line.wearer}
                    {line.silent ? <span class="remark">{line.silent}</span> : null}
                  </th>
                  <td>
                    <a href={line.jobHref} data-open>
                      {line.jobNumber}
                    </a>
                  </td>
                  <td>
                    {line.pair} <span class="soft">{line.way}</span>
                  </td>
                  <td>{line.state}</td>
                  <td>{line.next ? <a href={line.next.href}>{line.next.words}</a> : null}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      )}
      <p class="range">
        {view.previousHref ? <a href={view.previousHref}>before</a> : null} {view.range}{' '}
        {view.nextHref ? <a href={view.nextHref}>more</a> : null}
      </p>
    </Shell>
  );
}
