import { PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { SentPictures } from '../pieces/sentPictures.tsx';
import { OwnWords } from '../pieces/words.tsx';
import type { CaseView, TalkEntry } from './view.ts';

/** Everything said, in order, with a box to write in and a box for what was heard on the phone. */
export function Talk(props: { view: CaseView; csrf: string }) {
  const { view, csrf } = props;
  return (
    <section class="talk" aria-labelledby="talk-heading">
      <h2 id="talk-heading">Talk</h2>
      <ol class="talk-list" tabindex={0} aria-label="What was said, oldest first">
        {view.talk.map((entry) => (
          <Entry entry={entry} view={view} csrf={csrf} />
        ))}
      </ol>
      {view.talk.length === 0 ? <p class="soft">Nothing has been said yet.</p> : null}
      {view.closed ? null : <Write view={view} csrf={csrf} />}
    </section>
  );
}

function Entry(props: { entry: TalkEntry; view: CaseView; csrf: string }) {
  const { entry, view } = props;
  if (entry.kind === 'event') {
    return (
      <li class={entry.takenBack ? 'event taken-back' : 'event'}>
        {entry.when} {entry.who} {entry.text}
        {entry.takenBack ? ' (taken back)' : ''}
        {entry.takeBack ? (
          <PostForm action={`/cases/${view.caseId}/take-back`} csrf={props.csrf} class="one-button">
            <input type="hidden" name="seen_version" value={String(view.version)} />
            <button type="submit" name="event_id" value={entry.takeBack}>
              Take it back<span class="unseen">: {entry.text}</span>
            </button>
          </PostForm>
        ) : null}
      </li>
    );
  }
  if (entry.kind === 'in') {
    return (
      <li class="in">
        <p class="from">
          <b>{entry.who}</b>{' '}
          <span class="when">
            {entry.when}, {entry.how}
          </span>
        </p>
        <OwnWords words={entry.words} />
        <SentPictures pictures={entry.pictures} />
        <p class="read-as">
          {entry.read.length > 0 ? `read as: ${entry.read.join('; ')}` : 'nothing read in it'}
          {entry.corrected ? ` (${entry.corrected})` : ''}
          {entry.correctHref ? (
            <>
              {' '}
              <a href={entry.correctHref}>
                mend<span class="unseen"> the reading of {entry.when}</span>
              </a>
            </>
          ) : null}
        </p>
      </li>
    );
  }
  return (
    <li class="out">
      <p class="from">
        {entry.who}{' '}
        <span class="when">
          {entry.when}, {entry.how}
        </span>
      </p>
      <p class="sent" lang={entry.lang}>
        {entry.text}
      </p>
      <p class={entry.well ? 'standing' : 'standing not-well'}>{entry.standing}</p>
      {entry.undo ? (
        <PostForm action={entry.undo.action} csrf={props.csrf} class="one-button">
          <button type="submit" data-undo-seconds={String(entry.undo.secondsLeft)}>
            Take it back
          </button>
        </PostForm>
      ) : null}
      {entry.correctable ? (
        <details class="correct">
          <summary>
            Send a correction<span class="unseen"> of {entry.when}</span>
          </summary>
          <PostForm action={`/cases/${view.caseId}/correct`} csrf={props.csrf}>
            <input type="hidden" name="message_id" value={entry.correctable} />
            <label for={`correct-${entry.correctable}`}>What is right</label>
            <textarea id={`correct-${entry.correctable}`} name="text" rows={2} required></textarea>
            <button type="submit">Send it</button>
          </PostForm>
        </details>
      ) : null}
    </li>
  );
}

function Write(props: { view: CaseView; csrf: string }) {
  const { view } = props;
  const usable = view.channels.filter((channel) => channel.cannot === null);
  const trouble = troubleOf(view.troubles, 'text');
  return (
    <div class="write">
      {usable.length > 0 ? (
        <PostForm action={`/cases/${view.caseId}/write`} csrf={props.csrf}>
          <label for="write-text">Write to {view.wearer.name}</label>
          <textarea
            id="write-text"
            name="text"
            rows={2}
            required
            aria-describedby="write-rule"
            aria-invalid={trouble ? 'true' : undefined}
          >
            {typedBefore(view.values, 'text') ?? ''}
          </textarea>
          {trouble ? <p class="mend">{trouble}</p> : null}
          <p class="hint" id="write-rule">
            By text no powers, measurements or conditions.{view.leaves ? ` ${view.leaves}` : ''}
          </p>
          <div class="send-line">
            <label for="write-channel" class="unseen">
              By
            </label>
            <select id="write-channel" name="channel">
              {usable.map((channel) => (
                <option value={channel.value}>{channel.words}</option>
              ))}
            </select>
            <button type="submit">Send</button>
          </div>
        </PostForm>
      ) : (
        <p class="soft">
          They cannot be written to:{' '}
          {view.channels.map((channel) => `${channel.words}: ${channel.cannot}`).join('; ')}. Ring them.
        </p>
      )}
      <details>
        <summary>They said it on the phone or at the counter</summary>
        <PostForm action={`/cases/${view.caseId}/heard`} csrf={props.csrf}>
          <label for="heard-text">In their words</label>
          <textarea id="heard-text" name="text" rows={3} required></textarea>
          <div class="send-line">
            <label for="heard-how" class="unseen">
              Heard
            </label>
            <select id="heard-how" name="how">
              <option value="phone">on the phone</option>
              <option value="counter">at the counter</option>
            </select>
            <button type="submit">Keep</button>
          </div>
        </PostForm>
      </details>
    </div>
  );
}
