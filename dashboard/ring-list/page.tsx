import { PostForm } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { RingListView, RingRow } from './view.ts';

/** Who to ring, at what time of theirs, why, promised by when, and what was tried. */
export function RingListPage(props: { shell: ShellView; view: RingListView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="ring-list">
      {view.rows.length === 0 ? (
        <p class="quiet">
          Nobody is to be rung. A wearer comes here who asks for a call, who likes calls best, whose parcel
          has not been heard of for ten days, or who cannot be written to.
        </p>
      ) : null}
      <ol class="ring-rows">
        {view.rows.map((row) => (
          <Row row={row} csrf={shell.csrf} />
        ))}
      </ol>
    </Shell>
  );
}

function Row(props: { row: RingRow; csrf: string }) {
  const { row } = props;
  return (
    <li class="ring-row" data-row>
      <div class="who">
        <h2>
          <a href={row.wearerHref}>{row.wearer}</a>
        </h2>
        <p class="number">
          {row.phone ? (
            <a href={`tel:${row.phone.replace(/[^+\d]/g, '')}`}>{row.phone}</a>
          ) : (
            <span class="soft">no number</span>
          )}
        </p>
        <p class={row.civil ? 'soft' : 'uncivil'}>
          {row.localTime}
          {row.civil ? '' : ': not now'}
        </p>
      </div>
      <div>
        <p>{row.why}</p>
        {row.promisedBy ? <p class={row.overdue ? 'mend' : 'promised'}>{row.promisedBy}</p> : null}
        <ul class="attempts">
          {row.attempts.map((attempt) => (
            <li>{attempt}</li>
          ))}
        </ul>
        {row.writeInstead ? <p class="caution">{row.writeInstead}</p> : null}
      </div>
      <div class="do">
        <a class="button act" href={`/ring-list/${row.ringId}`} data-open>
          Call sheet<span class="unseen">: {row.wearer}</span>
        </a>
        <PostForm action={`/ring-list/${row.ringId}/attempt`} csrf={props.csrf} class="buttons">
          <button type="submit" name="what" value="no answer">
            No answer<span class="unseen">: {row.wearer}</span>
          </button>
          <button type="submit" name="what" value="left message">
            Left name and number<span class="unseen">: {row.wearer}</span>
          </button>
        </PostForm>
      </div>
    </li>
  );
}
