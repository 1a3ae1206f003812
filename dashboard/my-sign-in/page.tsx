import { Field, PostForm, troubleOf } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { MySignInView, SessionEntry } from './view.ts';

/** A person's own sign-in: where they are signed in, password, second factor. */
export function MySignInPage(props: { shell: ShellView; view: MySignInView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="my-sign-in">
      <p>
        You sign in with {view.email}; the password is from {view.passwordSince}.
      </p>
      <PostForm action="/sign-out" csrf={shell.csrf} class="one-button">
        <button type="submit" class="act">
          Sign out
        </button>
      </PostForm>
      <section aria-labelledby="sessions-heading">
        <h2 id="sessions-heading">Where you are signed in</h2>
        <Sessions view={view} csrf={shell.csrf} action="/my-sign-in/sessions" />
        <p class="soft">
          A sign-in ends after two hours without a sign of you, and after twelve in any case.
        </p>
      </section>
      <section aria-labelledby="factor-heading">
        <h2 id="factor-heading">Second factor</h2>
        {view.factorSince === null ? (
          <>
            <p>
              You have none: you can sign in only at the shop’s own machine.{' '}
              <a href="/sign-in/second-factor">Set it up</a>
            </p>
          </>
        ) : (
          <>
            <p>
              Turned on {view.factorSince}.{' '}
              {view.codesLeft === 1
                ? 'One recovery code is left.'
                : `${view.codesLeft} recovery codes are left.`}
            </p>
            <PostForm action="/my-sign-in/codes" csrf={shell.csrf} class="line-form">
              <Current id="codes-current" view={view} />
              <button type="submit">Make new recovery codes</button>
              <button type="submit" formaction="/my-sign-in/factor/remove">
                Take the second factor away
              </button>
            </PostForm>
          </>
        )}
      </section>
      <section aria-labelledby="password-heading">
        <h2 id="password-heading">Change the password</h2>
        <PostForm action="/my-sign-in/password" csrf={shell.csrf}>
          <div class="inputs">
            <Current id="password-current" view={view} />
            <Field
              name="password"
              id="password-new"
              label="New password"
              type="password"
              autocomplete="new-password"
              hint="At least 12 letters."
              trouble={troubleOf(view.troubles, 'password')}
            />
            <Field
              name="password_again"
              id="password-again"
              label="The new one again"
              type="password"
              autocomplete="new-password"
              trouble={troubleOf(view.troubles, 'password_again')}
            />
          </div>
          <button type="submit">Change</button>
        </PostForm>
      </section>
    </Shell>
  );
}

const Current = (props: { id: string; view: MySignInView }) => (
  <Field
    name="current"
    id={props.id}
    label="Present password"
    type="password"
    autocomplete="current-password"
    trouble={troubleOf(props.view.troubles, 'current') ?? troubleOf(props.view.troubles, 'code')}
  />
);

/** Open sessions with a button to end each, behind the password once for all of them. */
function Sessions(props: { view: MySignInView; csrf: string; action: string }) {
  const { sessions } = props.view;
  const others = sessions.filter((one) => !one.here);
  const table = <SessionTable sessions={sessions} action={props.action} />;
  if (others.length === 0) return table;
  return (
    <PostForm action={`${props.action}/${others[0]!.id}/end`} csrf={props.csrf}>
      {table}
      <Field
        name="current"
        id="end-current"
        label="Present password, to end one"
        type="password"
        autocomplete="current-password"
        trouble={troubleOf(props.view.troubles, 'ending')}
      />
    </PostForm>
  );
}

function SessionTable(props: { sessions: readonly SessionEntry[]; action: string }) {
  return (
    <WideTable label="Sessions" blocks>
      <table>
        <thead>
          <tr>
            <th scope="col">Browser</th>
            <th scope="col">From</th>
            <th scope="col">Since</th>
            <th scope="col">Last seen</th>
            <th scope="col">
              <span class="unseen">End it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {props.sessions.map((session) => (
            <tr>
              <th scope="row">{session.about}</th>
              <td data-is="from">{session.address}</td>
              <td data-is="since">{session.since}</td>
              <td data-is="last seen">{session.seen}</td>
              <td>
                {session.here ? (
                  'this one'
                ) : (
                  <button type="submit" formaction={`${props.action}/${session.id}/end`}>
                    End it<span class="unseen">: {session.about}</span>
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </WideTable>
  );
}
