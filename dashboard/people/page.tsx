import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { PeopleView } from './view.ts';

/** Who works here, who is licensed until when, who is told first when someone is in danger. */
export function PeoplePage(props: { shell: ShellView; view: PeopleView }) {
  const { shell, view } = props;
  const changing = view.changing ?? null;
  return (
    <Shell shell={shell} class="people">
      {view.fresh ? <Fresh fresh={view.fresh} /> : null}
      {view.onCallTrouble ? <p class="caution">{view.onCallTrouble}</p> : null}
      {view.licenceTrouble ? <p class="caution">{view.licenceTrouble}</p> : null}
      {view.people.length === 0 ? (
        <p class="quiet">Nobody yet. Begin with yourself, with a number and an address: alarms go there.</p>
      ) : (
        <WideTable label="People" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col">Told in danger</th>
                <th scope="col">Reached at</th>
                <th scope="col">Licence</th>
                {view.signInExists ? <th scope="col">Sign-in</th> : null}
                <th scope="col">
                  <span class="unseen">Change or leave</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {view.people.map((person) => (
                <tr>
                  <th scope="row">
                    {person.name} <span class="unit">{person.role}</span>
                    {person.active ? null : <span class="remark">no longer here</span>}
                  </th>
                  <td data-is="told in danger">
                    {person.onCall === null ? 'not on call' : `number ${person.onCall}`}
                    {person.onCall !== null && person.onCallHours ? `, ${person.onCallHours}` : ''}
                  </td>
                  <td data-is="reached at">
                    {[person.phone, person.email].filter((way) => way !== '').join(', ')}
                  </td>
                  <td data-is="licence">{person.licence}</td>
                  {view.signInExists ? <td data-is="sign-in">{person.signsIn ?? ''}</td> : null}
                  <td>
                    {person.active ? (
                      <a href={`/people?change=${person.personId}#add-heading`}>
                        Change<span class="unseen">: {person.name}</span>
                      </a>
                    ) : null}{' '}
                    {person.active ? (
                      <PostForm
                        action={`/people/${person.personId}/leave`}
                        csrf={shell.csrf}
                        class="one-button"
                      >
                        <button type="submit">
                          No longer here<span class="unseen">: {person.name}</span>
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
      {view.signInExists ? <Links view={view} csrf={shell.csrf} /> : null}
      {view.tokens ? <Tokens view={view} csrf={shell.csrf} /> : null}
      <section aria-labelledby="add-heading">
        <h2 id="add-heading">{changing === null ? 'Add a person' : `Change ${changing.name}`}</h2>
        <PostForm action={changing === null ? '/people' : `/people/${changing.personId}`} csrf={shell.csrf}>
          <div class="inputs">
            <PersonField view={view} name="name" label="Name" required />
            <PersonField view={view} name="phone" label="Telephone for alarms" type="tel" />
            <PersonField view={view} name="email" label="Email for alarms" type="email" />
            <Select
              name="role"
              id="p-role"
              label="Role"
              value={typedBefore(view.values, 'role')}
              trouble={troubleOf(view.troubles, 'role')}
              choices={[
                { value: 'staff', words: 'staff' },
                { value: 'owner', words: 'owner' },
              ]}
            />
            <PersonField view={view} name="licence_number" label="Licence number" />
            <PersonField view={view} name="licensed_until" label="Licensed until" type="date" />
            <PersonField
              view={view}
              name="on_call_order"
              label="Told in danger, place in the row"
              hint="1 is told first. Leave empty for never."
            />
            <Select
              name="on_call_days"
              id="p-on_call_days"
              label="Told on"
              value={typedBefore(view.values, 'on_call_days')}
              trouble={troubleOf(view.troubles, 'on_call_days')}
              choices={[
                { value: '1,2,3,4,5,6,7', words: 'every day' },
                { value: '1,2,3,4,5', words: 'Mondays to Fridays' },
                { value: '1,2,3,4,5,6', words: 'Mondays to Saturdays' },
                { value: '6,7', words: 'Saturdays and Sundays' },
              ]}
            />
            <PersonField
              view={view}
              name="on_call_from"
              label="From, full hour"
              hint="Leave both hours empty for any hour."
            />
            <PersonField view={view} name="on_call_to" label="Up to, full hour" />
          </div>
          <button type="submit" class="act">
            {changing === null ? 'Add' : 'Keep'}
          </button>
        </PostForm>
      </section>
    </Shell>
  );
}

/** What is shown this once: only its hash is kept. */
function Fresh(props: { fresh: NonNullable<PeopleView['fresh']> }) {
  const { kind, whose, secret } = props.fresh;
  return (
    <div class="notice done fresh" role="status">
      <p>
        {kind === 'link'
          ? `A link for ${whose}, for one use within three days. Hand it over yourself; it is not shown again.`
          : `The token of ${whose}. Put it into the program now; it is not shown again.`}
      </p>
      <p class="secret">
        <code>{secret}</code>
      </p>
    </div>
  );
}

/** Invitations and new passwords, and signing somebody out everywhere. */
function Links(props: { view: PeopleView; csrf: string }) {
  const here = props.view.people.filter((person) => person.active);
  return (
    <section aria-labelledby="links-heading">
      <h2 id="links-heading">Invite, or let in anew</h2>
      <p>
        A link lets a person choose their password: for somebody new, or where it was forgotten. Their older
        links end.
      </p>
      <ul class="plain">
        {here.map((person) => (
          <li class="way-in">
            <PostForm action={`/people/${person.personId}/link`} csrf={props.csrf} class="line-form">
              <span class="whom">{person.name}</span>
              <label class="tick">
                <input type="checkbox" name="factor_lost" value="yes" /> second factor lost too
              </label>
              <button type="submit">
                Make a link<span class="unseen">: {person.name}</span>
              </button>
            </PostForm>
            {person.signedIn ? (
              <PostForm action={`/people/${person.personId}/sign-out`} csrf={props.csrf} class="one-button">
                <button type="submit">
                  Sign out everywhere<span class="unseen">: {person.name}</span>
                </button>
              </PostForm>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Tokens by which programs come in, each with what it may do. */
function Tokens(props: { view: PeopleView; csrf: string }) {
  const { view, csrf } = props;
  return (
    <section aria-labelledby="tokens-heading">
      <h2 id="tokens-heading">Programs</h2>
      <p>
        A program of yours works through <code>/api/…</code> with a token: <code>Authorization: Bearer</code>{' '}
        and the token.
      </p>
      {view.tokens && view.tokens.length > 0 ? (
        <WideTable label="Tokens" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">For</th>
                <th scope="col">May</th>
                <th scope="col">Made</th>
                <th scope="col">Last used</th>
                <th scope="col">
                  <span class="unseen">Revoke</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {view.tokens.map((token) => (
                <tr>
                  <th scope="row">{token.name}</th>
                  <td data-is="may">{token.may}</td>
                  <td data-is="made">{token.made}</td>
                  <td data-is="last used">{token.used}</td>
                  <td>
                    <PostForm
                      action={`/people/tokens/${token.tokenId}/revoke`}
                      csrf={csrf}
                      class="one-button"
                    >
                      <button type="submit">
                        Revoke<span class="unseen">: {token.name}</span>
                      </button>
                    </PostForm>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      ) : null}
      <PostForm action="/people/tokens" csrf={csrf}>
        <PersonField view={view} name="token_name" label="Which program" />
        <fieldset>
          <legend>It may</legend>
          {troubleOf(view.troubles, 'scopes') ? (
            <p class="mend">{troubleOf(view.troubles, 'scopes')}</p>
          ) : null}
          {(view.scopes ?? []).map((scope) => (
            <label class="tick">
              <input type="checkbox" name="scopes" value={scope.value} /> {scope.words}
            </label>
          ))}
        </fieldset>
        <button type="submit">Make a token</button>
      </PostForm>
    </section>
  );
}

function PersonField(props: {
  view: PeopleView;
  name: string;
  label: string;
  type?: string;
  hint?: string;
  required?: boolean;
}) {
  return (
    <Field
      name={props.name}
      id={`p-${props.name}`}
      label={props.label}
      {...(props.type ? { type: props.type } : {})}
      {...(props.hint ? { hint: props.hint } : {})}
      {...(props.required ? { required: true } : {})}
      value={typedBefore(props.view.values, props.name)}
      trouble={troubleOf(props.view.troubles, props.name)}
    />
  );
}
