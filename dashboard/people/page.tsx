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
      {view.onCallTrouble ? <p class="caution">{view.onCallTrouble}</p> : null}
      {view.people.length === 0 ? (
        <p class="quiet">Nobody yet. Begin with yourself, with a number and an address: alarms go there.</p>
      ) : (
        <WideTable label="People">
          <table>
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col">Told in danger</th>
                <th scope="col">Reached at</th>
                <th scope="col">Licence</th>
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
                  <td>
                    {person.onCall === null ? 'not on call' : `number ${person.onCall}`}
                    {person.onCall !== null && person.onCallHours ? `, ${person.onCallHours}` : ''}
                  </td>
                  <td>{[person.phone, person.email].filter((way) => way !== '').join(', ')}</td>
                  <td>{person.licence}</td>
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
