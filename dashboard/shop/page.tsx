import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { SettingField, ShopView } from './view.ts';

/** Hours, deadlines, costs, local numbers, ways, and the ticks before going live. */
export function ShopPage(props: { shell: ShellView; view: ShopView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="shop">
      <section aria-labelledby="before-heading">
        <h2 id="before-heading">{view.mayGoLive ? 'Ready' : 'Before you go live'}</h2>
        <ul class="before">
          {view.before.map((tick) => (
            <li>
              <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
                <path class="box" d="M1.5 1.5 h13 v13 h-13 Z" />
                {tick.done ? <path class="tick-mark" d="M4 8 l3 3.5 L12.5 4" /> : null}
              </svg>{' '}
              {tick.done ? (
                <span>
                  {tick.words}
                  <span class="unseen">: done</span>
                </span>
              ) : (
                <a href={tick.href}>{tick.words}</a>
              )}
            </li>
          ))}
        </ul>
        <p class="hint">
          Texts and emails stay off until all nine are there. Your counsel and local rules come first.
        </p>
        <div class="inputs" id="try">
          <PostForm action="/shop/try" csrf={shell.csrf} class="one-button">
            <button type="submit">Try address, sender and mailbox now</button>
          </PostForm>
          <p class="hint">
            Signs in and out again and sends nothing. They are set in the environment; see the README.
          </p>
        </div>
      </section>
      <section aria-labelledby="consent-heading" id="consent">
        <h2 id="consent-heading">Words for consent</h2>
        <p class="hint">Staff ask in these words at the hand-over, and they are kept with the answer.</p>
        <blockquote>{view.consentWords}</blockquote>
        <PostForm action="/shop/consent-words" csrf={shell.csrf} class="one-button">
          <button type="submit">Read: we ask in these words</button>
        </PostForm>
      </section>
      <section aria-labelledby="backup-heading" id="backup">
        <h2 id="backup-heading">Backup</h2>
        <p class="hint">
          In the terminal: <code>npm run -s afterfit -- backup</code>. It writes one sealed file, opens it
          again and compares; that is the tick.
        </p>
      </section>
      {view.sections.map((section) => (
        <section aria-labelledby={`${section.id}-heading`} id={section.id}>
          <h2 id={`${section.id}-heading`}>{section.heading}</h2>
          <p class="hint">{section.says}</p>
          <PostForm action="/shop" csrf={shell.csrf}>
            <input type="hidden" name="section" value={section.id} />
            <div class="inputs">
              {section.fields.map((field) => (
                <Setting field={field} view={view} />
              ))}
            </div>
            <button type="submit">
              Keep<span class="unseen"> {section.heading}</span>
            </button>
          </PostForm>
        </section>
      ))}
      <section aria-labelledby="ways-heading">
        <h2 id="ways-heading">How messages leave</h2>
        <dl class="dates">
          {view.ways.map((way) => (
            <div>
              <dt>{way.name}</dt>
              <dd>{way.stands}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section aria-labelledby="records-heading" id="records">
        <h2 id="records-heading">If the power goes</h2>
        <p>{view.powerCut}</p>
      </section>
    </Shell>
  );
}

function Setting(props: { field: SettingField; view: ShopView }) {
  const { field, view } = props;
  const value = typedBefore(view.values, field.name);
  const trouble = troubleOf(view.troubles, field.name);
  const id = `s-${field.name}`;
  if (field.kind === 'choice') {
    return (
      <Select
        name={field.name}
        id={id}
        label={field.label}
        choices={field.choices}
        value={value}
        trouble={trouble}
        {...(field.hint ? { hint: field.hint } : {})}
      />
    );
  }
  if (field.kind === 'tick') {
    return (
      <label class="tick">
        <input type="checkbox" name={field.name} value="yes" checked={value === 'yes'} /> {field.label}
      </label>
    );
  }
  if (field.kind === 'lines') {
    return (
      <div class="field wide">
        <label for={id}>{field.label}</label>
        {field.hint ? (
          <p class="hint" id={`${id}-hint`}>
            {field.hint}
          </p>
        ) : null}
        <textarea
          id={id}
          name={field.name}
          rows={3}
          aria-describedby={field.hint ? `${id}-hint` : undefined}
          aria-invalid={trouble ? 'true' : undefined}
        >
          {value ?? ''}
        </textarea>
        {trouble ? <p class="mend">{trouble}</p> : null}
      </div>
    );
  }
  return (
    <Field
      name={field.name}
      id={id}
      label={field.label}
      type={field.kind === 'number' ? 'text' : field.kind}
      {...(field.kind === 'number' ? { inputmode: 'decimal' as const } : {})}
      {...(field.hint ? { hint: field.hint } : {})}
      value={value}
      trouble={trouble}
    />
  );
}
