import { Field, PostForm } from '../pieces/form.tsx';
import { SentPictures } from '../pieces/sentPictures.tsx';
import { OwnWords } from '../pieces/words.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { TrayItem, TrayView } from './view.ts';

/** Every message that came in and is not wholly accounted for. */
export function TrayPage(props: { shell: ShellView; view: TrayView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="tray">
      <p class="lead">
        Words that nothing accounts for yet. While a wearer has something here, their case cannot be called
        settled.
      </p>
      {view.items.length === 0 ? (
        <p class="quiet">
          The tray is empty. A message comes here when it is not clear whom it is from or what it says: an
          unknown number, two wearers on one number, a picture alone, or words that may matter and fit no
          label.
        </p>
      ) : null}
      <ol class="tray-items">
        {view.items.map((item) => (
          <Item item={item} groups={view.labelGroups} csrf={shell.csrf} />
        ))}
      </ol>
    </Shell>
  );
}

function Item(props: { item: TrayItem; groups: TrayView['labelGroups']; csrf: string }) {
  const { item, csrf } = props;
  const id = item.inboundId;
  return (
    <li class={item.danger ? 'tray-item has-danger' : 'tray-item'} data-row id={`in-${id}`}>
      <div class="said">
        <p class="from">
          {item.wearer ? <a href={item.wearer.href}>{item.wearer.name}</a> : <b>{item.from}</b>}{' '}
          <span class="when">
            {item.came}, {item.channel}
          </span>
        </p>
        {item.words.text === '' ? <p class="soft">No words.</p> : <OwnWords words={item.words} />}
        <SentPictures pictures={item.pictures} />
        <p class="why">{item.why}</p>
        {item.danger ? <p class="sign">A danger sign was read; the people on call have been told.</p> : null}
      </div>
      <div class="do">
        {item.wearer === null ? <WhoIsIt item={item} csrf={csrf} /> : null}
        {item.wearer?.caseHref ? (
          <p>
            <a href={item.wearer.caseHref}>Open the case</a>
          </p>
        ) : null}
        <details class="say-what">
          <summary>
            Say what it means<span class="unseen">, message from {item.wearer?.name ?? item.from}</span>
          </summary>
          <PostForm action={`/tray/${id}/labels`} csrf={csrf} class="labels-form">
            {props.groups.map((group) => (
              <fieldset>
                <legend>{group.name}</legend>
                {group.labels.map((label) => (
                  <label class="tick">
                    <input
                      type="checkbox"
                      name="labels"
                      value={label.id}
                      checked={item.labels.includes(label.id)}
                    />{' '}
                    {label.means}
                  </label>
                ))}
              </fieldset>
            ))}
            <Field name="reason" label="Why, if it helps the next reader" id={`reason-${id}`} />
            <button type="submit">Keep this reading</button>
          </PostForm>
        </details>
        <PostForm action={`/tray/${id}/done`} csrf={csrf} class="one-button">
          <button type="submit">
            Dealt with<span class="unseen">, message from {item.wearer?.name ?? item.from}</span>
          </button>
        </PostForm>
      </div>
    </li>
  );
}

function WhoIsIt(props: { item: TrayItem; csrf: string }) {
  const { item } = props;
  const id = item.inboundId;
  return (
    <div class="who-is-it">
      {item.candidates.length > 0 ? (
        <PostForm action={`/tray/${id}/link`} csrf={props.csrf}>
          <fieldset>
            <legend>Whose is it?</legend>
            {item.candidates.map((candidate) => (
              <label class="tick">
                <input type="radio" name="wearer_id" value={candidate.wearerId} required /> {candidate.name}{' '}
                <span class="soft">{candidate.detail}</span>
              </label>
            ))}
          </fieldset>
          <button type="submit">Link to this wearer</button>
        </PostForm>
      ) : item.find !== '' ? (
        <p class="soft">Nobody found for “{item.find}”.</p>
      ) : null}
      <form method="get" action={`/tray#in-${id}`} class="inline-find">
        <input type="hidden" name="for" value={id} />
        <label for={`find-${id}`}>Find the wearer</label>
        <input id={`find-${id}`} name="find" type="search" value={item.find} autocomplete="off" />
        <button type="submit">Find</button>
      </form>
    </div>
  );
}
