import type { Child } from 'hono/jsx';
import type { FieldTrouble, FormValues } from './view.ts';

/** A form that posts, with the hidden token. */
export function PostForm(props: {
  action: string;
  csrf: string;
  class?: string;
  files?: boolean;
  label?: string;
  id?: string;
  children?: Child;
}) {
  return (
    <form
      method="post"
      action={props.action}
      class={props.class}
      id={props.id}
      enctype={props.files ? 'multipart/form-data' : undefined}
      aria-label={props.label}
    >
      <input type="hidden" name="csrf" value={props.csrf} />
      {props.children}
    </form>
  );
}

/** A labelled input with its hint and, after a refusal, what to mend. */
export function Field(props: {
  name: string;
  label: string;
  id: string;
  type?: string;
  hint?: string;
  required?: boolean;
  value?: string | undefined;
  inputmode?: 'decimal' | 'numeric' | 'text' | 'tel' | 'email';
  autocomplete?: string;
  placeholder?: string;
  trouble?: string | undefined;
  class?: string;
}) {
  const describedBy = [props.hint ? `${props.id}-hint` : '', props.trouble ? `${props.id}-trouble` : '']
    .filter((part) => part !== '')
    .join(' ');
  return (
    <div class={`field ${props.class ?? ''}`}>
      <label for={props.id}>
        {props.label}
        {props.required ? <span class="needed"> (needed)</span> : null}
      </label>
      {props.hint ? (
        <p class="hint" id={`${props.id}-hint`}>
          {props.hint}
        </p>
      ) : null}
      {props.trouble ? (
        <p class="mend" id={`${props.id}-trouble`}>
          {props.trouble}
        </p>
      ) : null}
      <input
        id={props.id}
        name={props.name}
        type={props.type ?? 'text'}
        value={props.value}
        required={props.required}
        inputmode={props.inputmode}
        autocomplete={props.autocomplete ?? 'off'}
        aria-describedby={describedBy === '' ? undefined : describedBy}
        aria-invalid={props.trouble ? 'true' : undefined}
      />
    </div>
  );
}

export type Choice = { readonly value: string; readonly words: string };

/** A labelled list of choices to pick one from. */
export function Select(props: {
  name: string;
  label: string;
  id: string;
  choices: readonly Choice[];
  value?: string | undefined;
  hint?: string;
  trouble?: string | undefined;
  class?: string;
}) {
  const describedBy = props.trouble ? `${props.id}-trouble` : props.hint ? `${props.id}-hint` : undefined;
  return (
    <div class={`field ${props.class ?? ''}`}>
      <label for={props.id}>{props.label}</label>
      {props.hint ? (
        <p class="hint" id={`${props.id}-hint`}>
          {props.hint}
        </p>
      ) : null}
      {props.trouble ? (
        <p class="mend" id={`${props.id}-trouble`}>
          {props.trouble}
        </p>
      ) : null}
      <select id={props.id} name={props.name} aria-describedby={describedBy}>
        {props.choices.map((choice) => (
          <option value={choice.value} selected={choice.value === props.value}>
            {choice.words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** What is wrong with a field, if anything is. */
export const troubleOf = (troubles: readonly FieldTrouble[], field: string): string | undefined =>
  troubles.find((trouble) => trouble.field === field)?.text;

/** The value typed before, if any. */
export const typedBefore = (values: FormValues, field: string): string | undefined => values[field];
