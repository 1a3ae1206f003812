import { PostForm } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { ActAsView } from './view.ts';

/** Whom one is in the invented shop: an owner sees more pages than staff, and a licensed person signs. */
export function ActAsPage(props: { shell: ShellView; view: ActAsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="act-as">
      <p>
        Nobody here is real, so nobody signs in. In your own shop each person has a password, and what they
        may see and sign hangs on their role and licence.
      </p>
      <WideTable label="People of the invented shop" blocks>
        <table>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Role</th>
              <th scope="col">Licence</th>
              <th scope="col">
                <span class="unseen">Act as</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {view.people.map((person) => (
              <tr>
                <th scope="row">{person.name}</th>
                <td>{person.role}</td>
                <td>{person.licence}</td>
                <td>
                  {person.now ? (
                    'you now'
                  ) : (
                    <PostForm action="/act-as" csrf={shell.csrf} class="one-button">
                      <input type="hidden" name="person_id" value={person.personId} />
                      <button type="submit">Act as {person.name}</button>
                    </PostForm>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <p>
        <a href="/people">People</a> <span class="soft">adds others and marks who is licensed.</span>
      </p>
    </Shell>
  );
}
