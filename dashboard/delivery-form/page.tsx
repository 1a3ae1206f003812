import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { DeliveryFormView, JobField } from './view.ts';

/** One job typed in: what it cannot do without first, the numbers folded below, R over L as on a lab's form. */
export function DeliveryFormPage(props: { shell: ShellView; view: DeliveryFormView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="delivery-form">
      <p class="lead">
        Eight lines are enough. Each number more that you have now saves a question later: most causes are
        told apart by what was measured at the order.
      </p>
      {view.warnings.length > 0 ? (
        <section aria-labelledby="own-measuring">
          <h2 id="own-measuring">Our own measuring</h2>
          <ul class="sentences">
            {view.warnings.map((words) => (
              <li>{words}</li>
            ))}
          </ul>
        </section>
      ) : null}
      {view.troubles.length > 0 ? (
        <div class="notice trouble" role="alert">
          <p>
            Not taken in yet. Please mend{' '}
            {view.troubles.length === 1 ? 'one field' : `${view.troubles.length} fields`}:
          </p>
          <ul>
            {view.troubles.map((trouble) => (
              <li>
                <a href={`#f-${trouble.field}`}>{trouble.text}</a>
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      <PostForm action="/deliveries" csrf={shell.csrf} class="job-form">
        {view.sections.map((section, index) =>
          index === 0 ? (
            <fieldset>
              <legend>{section.heading}</legend>
              <Inputs fields={section.fields} view={view} />
            </fieldset>
          ) : (
            <details open={section.fields.some((field) => hasSomething(view, field))}>
              <summary>{section.heading}</summary>
              <Inputs fields={section.fields} view={view} />
            </details>
          ),
        )}
        <button type="submit" class="act">
          Take in the job
        </button>
      </PostForm>
    </Shell>
  );
}

function Inputs(props: { fields: readonly JobField[]; view: DeliveryFormView }) {
  return (
    <div class="inputs">
      {props.fields.map((field) =>
        field.eyes ? (
          <fieldset class="eyes">
            <legend>{withUnit(field)}</legend>
            <OneInput field={field} name={`${field.name}_R`} label="R" view={props.view} />
            <OneInput field={field} name={`${field.name}_L`} label="L" view={props.view} />
          </fieldset>
        ) : (
          <OneInput field={field} name={field.name} label={withUnit(field)} view={props.view} />
        ),
      )}
    </div>
  );
}

function OneInput(props: { field: JobField; name: string; label: string; view: DeliveryFormView }) {
  const { field, name, view } = props;
  if (field.kind === 'choice') {
    return (
      <Select
        name={name}
        id={`f-${name}`}
        label={props.label}
        choices={field.choices}
        value={typedBefore(view.values, name)}
        {...(field.hint ? { hint: field.hint } : {})}
        trouble={troubleOf(view.troubles, name)}
      />
    );
  }
  return (
    <Field
      name={name}
      id={`f-${name}`}
      label={props.label}
      type={field.kind === 'number' ? 'text' : field.kind}
      {...(field.kind === 'number' ? { inputmode: 'decimal' as const } : {})}
      {...(field.hint ? { hint: field.hint } : {})}
      required={field.needed}
      value={typedBefore(view.values, name)}
      trouble={troubleOf(view.troubles, name)}
    />
  );
}

const withUnit = (field: JobField): string =>
  `${field.label}${field.unit ? `, ${field.unit}` : ''}${field.range ? ` (${field.range})` : ''}`;

const hasSomething = (view: DeliveryFormView, field: JobField): boolean =>
  [field.name, `${field.name}_R`, `${field.name}_L`].some(
    (name) => (view.values[name] ?? '') !== '' || troubleOf(view.troubles, name) !== undefined,
  );
