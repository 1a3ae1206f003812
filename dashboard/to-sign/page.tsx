import { PostForm } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { ToSignView } from './view.ts';

/** What waits for the signature of a licensed person. */
export function ToSignPage(props: { shell: ShellView; view: ToSignView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="to-sign">
      {view.signers.length === 0 ? (
        <p class="caution">
          Nobody here is marked as licensed today, so nobody can sign. <a href="/people">People</a>
        </p>
      ) : view.maySign ? null : (
        <p class="soft">You are not marked as licensed. {view.signers.join(' or ')} can sign.</p>
      )}
      <section aria-labelledby="waiting-heading">
        <h2 id="waiting-heading">Numbers, and closures after a danger sign</h2>
        {view.waiting.length === 0 ? (
          <p class="quiet">Nothing waits.</p>
        ) : (
          <WideTable label="What waits to be signed, oldest first" blocks>
            <table>
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col">Wearer</th>
                  <th scope="col">By</th>
                  <th scope="col">
                    <span class="unseen">Sign</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {view.waiting.map((one) => (
                  <tr>
                    <th scope="row">{one.what}</th>
                    <td>
                      {one.jobs ? (
                        <details>
                          <summary>which</summary>
                          <ul class="plain">
                            {one.jobs.map((job) => (
                              <li>
                                <a href={job.href}>{job.words}</a>
                              </li>
                            ))}
                          </ul>
                        </details>
                      ) : (
                        <a href={one.href}>{one.wearer}</a>
                      )}
                    </td>
                    <td data-is="by">{one.by}</td>
                    <td>
                      {view.maySign ? (
                        <PostForm action={`/to-sign/${one.id}`} csrf={shell.csrf} class="one-button">
                          <button type="submit" name="how" value="signed">
                            Sign<span class="unseen">: {one.what}</span>
                          </button>{' '}
                          <button type="submit" name="how" value="turned down">
                            Turn down<span class="unseen">: {one.what}</span>
                          </button>
                        </PostForm>
                      ) : null}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        )}
      </section>
      <section aria-labelledby="papers-heading">
        <h2 id="papers-heading">Papers and releases</h2>
        {view.papers.length === 0 ? (
          <p class="quiet">Nothing waits.</p>
        ) : (
          <ul class="plain">
            {view.papers.map((one) => (
              <li>
                <a href={one.href}>
                  {one.what}: {one.wearer}
                </a>{' '}
                <span class="soft">{one.by}</span>
              </li>
            ))}
          </ul>
        )}
      </section>
    </Shell>
  );
}
