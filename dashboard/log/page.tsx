import { Select } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LogView } from './view.ts';

/** Who did what, when; what was sent and how it stands. */
export function LogPage(props: { shell: ShellView; view: LogView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="log">
      <form method="get" action="/log" class="line-form">
        <Select name="about" id="log-about" label="Show" choices={view.abouts} value={view.about} />
        <button type="submit">Show</button>
      </form>
      {view.lines.length === 0 ? (
        <p class="quiet">Nothing of the kind has happened yet.</p>
      ) : (
        <WideTable label="What happened, newest first" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">Who</th>
                <th scope="col">What</th>
                <th scope="col">About</th>
              </tr>
            </thead>
            <tbody>
              {view.lines.map((line) => (
                <tr>
                  <td class="one-line">{line.at}</td>
                  <td data-is="who">{line.by}</td>
                  <td>
                    {line.act}
                    {line.detail ? <span class="soft"> {line.detail}</span> : null}
                  </td>
                  <td data-is="about">{line.href ? <a href={line.href}>{line.subject}</a> : line.subject}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      )}
      {view.olderHref ? (
        <p class="range">
          <a href={view.olderHref}>older</a>
        </p>
      ) : null}
    </Shell>
  );
}
