import { Field, PostForm, troubleOf } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { WearerRecordsView } from './view.ts';

/** All that is on record of one wearer, to be handed to them or erased at their request. */
export function WearerRecordsPage(props: { shell: ShellView; view: WearerRecordsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="wearer">
      <p>
        <a href={`/wearers/${view.wearerId}`}>Back to {view.name}</a>
      </p>
      <section aria-labelledby="export-heading">
        <h2 id="export-heading">Hand it to them</h2>
        <p>
          Everything on record of {view.name}:{' '}
          {view.kinds.map(({ words, count }) => `${words} ${count}`).join(', ')}. Taking it out is noted in
          the log.
        </p>
        <PostForm action={`/wearers/${view.wearerId}/records.txt`} csrf={shell.csrf} class="line-form">
          {view.asksPassword ? (
            <Field
              name="current"
              id="export-current"
              label="Your password"
              type="password"
              autocomplete="current-password"
              trouble={troubleOf(view.troubles, 'current')}
            />
          ) : null}
          <button type="submit">To read</button>
          <button type="submit" formaction={`/wearers/${view.wearerId}/records.json`}>
            For another program
          </button>
        </PostForm>
      </section>
      <section aria-labelledby="erase-heading">
        <h2 id="erase-heading">Erase it</h2>
        <p>
          Name, numbers, addresses, everything said, measured, asked and answered, and pictures go at once and
          for good. What stays tells nobody who it was: that there was a pair of this design on these days,
          and how it ended. Of their addresses only a fingerprint stays, which cannot be read back, so that no
          old file brings them in again and nobody messages them.
        </p>
        <p>
          Hourly copies go by themselves within two days; backups that you keep elsewhere still hold them. Ask
          first whether the law where you are makes you keep a prescription or a sale on record.
        </p>
        <PostForm action={`/wearers/${view.wearerId}/erase`} csrf={shell.csrf} class="line-form">
          <Field
            name="name"
            id="erase-name"
            label={`Type “${view.name}” to erase it`}
            type="text"
            value=""
            trouble={troubleOf(view.troubles, 'name')}
          />
          <button type="submit">Erase for good</button>
        </PostForm>
      </section>
    </Shell>
  );
}
