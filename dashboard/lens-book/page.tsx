import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Term } from '../pieces/term.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LabEntry, LensBookView } from './view.ts';

/** The lens designs that the shop sells with their data, and what each lab allows. */
export function LensBookPage(props: { shell: ShellView; view: LensBookView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="lens-book">
      <section aria-labelledby="designs-heading">
        <h2 id="designs-heading">Designs</h2>
        {view.designs.length === 0 ? (
          <p class="quiet">
            No design yet. One comes in with the first job that names it; its data you fill in here.
          </p>
        ) : (
          <WideTable label="Lens designs">
            <table>
              <thead>
                <tr>
                  <th scope="col">Design</th>
                  <th scope="col">
                    <Term word="corridor">Corridor</Term>
                  </th>
                  <th scope="col">Least height</th>
                  <th scope="col">Index, V number</th>
                  <th scope="col">
                    <Term word="light-reactive">Light-reactive</Term>
                  </th>
                  <th scope="col">Source</th>
                  <th scope="col">Jobs</th>
                </tr>
              </thead>
              <tbody>
                {view.designs.map((design) => (
                  <tr>
                    <th scope="row">
                      {design.name}{' '}
                      {design.name.toLowerCase().startsWith(design.kind.toLowerCase()) ? null : (
                        <span class="unit">{design.kind}</span>
                      )}
                    </th>
                    <td>{design.corridor || <span class="soft">not known</span>}</td>
                    <td>{design.minimumHeight || <span class="soft">not known</span>}</td>
                    <td>
                      {design.index}
                      {design.abbe ? `, V ${design.abbe}` : ''}
                    </td>
                    <td>{design.lightReactive}</td>
                    <td>{design.source}</td>
                    <td>{design.jobs}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </WideTable>
        )}
        <details open={view.refused === 'design'}>
          <summary>Add a design, or mend one by its name</summary>
          <PostForm action="/lens-book/designs" csrf={shell.csrf} class="book-form">
            <div class="inputs">
              <BookField view={view} form="design" name="name" label="Name" required />
              <Select
                name="kind"
                id="design-kind"
                label="Kind"
                choices={view.kinds}
                value={view.refused === 'design' ? typedBefore(view.values, 'kind') : undefined}
              />
              <BookField view={view} form="design" name="corridor_mm" label="Corridor, mm" />
              <BookField
                view={view}
                form="design"
                name="corridor_how"
                label="Corridor measured"
                hint="From where to where: from the cross to 85 % of the add, for instance."
              />
              <BookField view={view} form="design" name="min_height_mm" label="Least fitting height, mm" />
              <BookField view={view} form="design" name="refractive_index" label="Index" />
              <BookField view={view} form="design" name="abbe" label="V number" />
              <BookField view={view} form="design" name="grade" label="Light-reactive grade" />
              <BookField view={view} form="design" name="clear_percent" label="Clear, % let through" />
              <BookField view={view} form="design" name="dark_percent" label="Dark, % let through" />
              <BookField view={view} form="design" name="dark_after_s" label="Dark after, s" />
              <BookField view={view} form="design" name="clear_half_life_s" label="Half cleared after, s" />
              <BookField view={view} form="design" name="at_temperature_c" label="Measured at, °C" />
              <BookField
                view={view}
                form="design"
                name="source"
                label="Where the figures are from"
                required
              />
            </div>
            <button type="submit">Keep the design</button>
          </PostForm>
        </details>
      </section>
      <section aria-labelledby="labs-heading">
        <h2 id="labs-heading">Labs and what they allow</h2>
        <p>
          <a href="/claims">Claims on labs</a>: what was asked, what has to go back, what is promised.
        </p>
        {view.labs.map((lab) => (
          <Lab lab={lab} view={view} csrf={shell.csrf} />
        ))}
        {view.labs.length === 0 ? (
          <p class="quiet">No lab yet. Without its terms the remake window cannot be counted.</p>
        ) : null}
        <PostForm action="/lens-book/labs" csrf={shell.csrf} class="line-form">
          <BookField view={view} form="lab" name="name" label="Another lab" required />
          <button type="submit">Add the lab</button>
        </PostForm>
      </section>
    </Shell>
  );
}

function Lab(props: { lab: LabEntry; view: LensBookView; csrf: string }) {
  const { lab, view } = props;
  return (
    <article class="lab">
      <h3>{lab.name}</h3>
      <ul>
        {lab.terms.map((term) => (
          <li>{term}</li>
        ))}
      </ul>
      {lab.terms.length === 0 ? <p class="soft">Its terms are not known.</p> : null}
      <PostForm action={`/lens-book/labs/${lab.labId}/terms`} csrf={props.csrf} class="line-form">
        <Select
          name="what"
          id={`what-${lab.labId}`}
          label="Makes again for"
          choices={[
            { value: 'settling', words: 'settling' },
            { value: 'made wrong', words: 'made wrong' },
            { value: 'prescription change', words: 'change of prescription' },
            { value: 'coating', words: 'coating' },
          ]}
        />
        <BookField view={view} form={lab.labId} name="days" label="Days (0 takes it out)" required />
        <Select
          name="from"
          id={`from-${lab.labId}`}
          label="counted from"
          choices={[
            { value: 'lab invoiced', words: 'its invoice' },
            { value: 'ordered', words: 'the order' },
            { value: 'handed over', words: 'hand-over' },
          ]}
        />
        <BookField view={view} form={lab.labId} name="times" label="Times" />
        <button type="submit">
          Add<span class="unseen"> to {lab.name}</span>
        </button>
      </PostForm>
    </article>
  );
}

function BookField(props: {
  view: LensBookView;
  form: string;
  name: string;
  label: string;
  hint?: string;
  required?: boolean;
}) {
  const { view, form, name } = props;
  const refusedHere = view.refused === form;
  return (
    <Field
      name={name}
      id={`${form}-${name}`}
      label={props.label}
      {...(props.hint ? { hint: props.hint } : {})}
      {...(props.required ? { required: true } : {})}
      value={refusedHere ? typedBefore(view.values, name) : undefined}
      trouble={refusedHere ? troubleOf(view.troubles, name) : undefined}
    />
  );
}
