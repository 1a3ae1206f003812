import { PostForm } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { Handset, RehearsalView } from './view.ts';

const STEPS = [
  { minutes: 10, words: '10 minutes on' },
  { minutes: 60, words: '1 hour on' },
  { minutes: 24 * 60, words: '1 day on' },
  { minutes: 7 * 24 * 60, words: '1 week on' },
];

/** Two pretend telephones, a mailbox and a clock that can be moved. */
export function RehearsalPage(props: { shell: ShellView; view: RehearsalView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="rehearsal">
      <p class="lead">
        Answer as the wearer would, then look at the <a href="/bench">bench</a>. Nothing leaves this computer.
      </p>
      <section class="moved-clock" aria-labelledby="clock-heading">
        <h2 id="clock-heading">Clock: {shell.clock}</h2>
        <div class="buttons">
          {view.nextDue ? (
            <PostForm action="/rehearsal/clock" csrf={shell.csrf} class="one-button">
              <input type="hidden" name="to" value="next-due" />
              <button type="submit" class="act">
                To the next thing due
              </button>
            </PostForm>
          ) : null}
          {STEPS.map((step) => (
            <PostForm action="/rehearsal/clock" csrf={shell.csrf} class="one-button">
              <input type="hidden" name="minutes" value={String(step.minutes)} />
              <button type="submit">{step.words}</button>
            </PostForm>
          ))}
        </div>
        <p class="soft">{view.nextDue ? `Next due: ${view.nextDue}.` : 'Nothing is due.'}</p>
      </section>
      <div class="pretend">
        {view.handsets.map((handset, index) => (
          <Phone handset={handset} csrf={shell.csrf} id={`phone-${index}`} />
        ))}
        {view.mailbox ? <Mailbox mailbox={view.mailbox} csrf={shell.csrf} /> : null}
      </div>
      {view.handsets.length === 0 && view.mailbox === null ? (
        <p class="quiet">No wearer has a number or an address yet. Type in a job first.</p>
      ) : null}
      {view.others.length > 0 ? (
        <details>
          <summary>Take another wearer’s telephone in hand</summary>
          <ul class="others">
            {view.others.map((other) => (
              <li>
                <a href={other.href}>{other.words}</a>
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </Shell>
  );
}

function Phone(props: { handset: Handset; csrf: string; id: string }) {
  const { handset, id } = props;
  return (
    <section class="handset" aria-labelledby={`${id}-heading`}>
      <h2 id={`${id}-heading`}>{handset.names.join(' and ')}</h2>
      <p class="soft">
        Telephone {handset.address}, {handset.localTime}
      </p>
      <Messages handset={handset} label={`Messages on ${handset.address}`} />
      <PostForm
        action="/rehearsal/reply"
        csrf={props.csrf}
        class="taps"
        label={`Tap an answer on ${handset.address}`}
      >
        <input type="hidden" name="contact_id" value={handset.contactId} />
        {['1', '2', '3', '4', '5'].map((answer) => (
          <button type="submit" name="text" value={answer}>
            {answer}
          </button>
        ))}
      </PostForm>
      <PostForm action="/rehearsal/reply" csrf={props.csrf} class="send-line">
        <input type="hidden" name="contact_id" value={handset.contactId} />
        <label for={`${id}-text`} class="unseen">
          Answer as {handset.names.join(' or ')}
        </label>
        <input id={`${id}-text`} name="text" required autocomplete="off" placeholder="Answer in own words" />
        <button type="submit">Send</button>
      </PostForm>
    </section>
  );
}

function Mailbox(props: { mailbox: Handset; csrf: string }) {
  const { mailbox } = props;
  return (
    <section class="handset mailbox" aria-labelledby="mailbox-heading">
      <h2 id="mailbox-heading">{mailbox.names.join(' and ')}</h2>
      <p class="soft">
        Mailbox {mailbox.address}, {mailbox.localTime}
      </p>
      <Messages handset={mailbox} label={`Mail of ${mailbox.address}`} />
      <PostForm action="/rehearsal/reply" csrf={props.csrf}>
        <input type="hidden" name="contact_id" value={mailbox.contactId} />
        <label for="mailbox-text">Answer the newest mail</label>
        <textarea id="mailbox-text" name="text" rows={2} required></textarea>
        <button type="submit">Send</button>
      </PostForm>
    </section>
  );
}

function Messages(props: { handset: Handset; label: string }) {
  const { messages } = props.handset;
  if (messages.length === 0) return <p class="soft no-messages">No messages yet. Move the clock.</p>;
  return (
    <ol class="pretend-messages" tabindex={0} aria-label={props.label}>
      {messages.map((message) => (
        <li class={message.direction === 'from the wearer' ? 'mine' : 'theirs'}>
          <p class="when">
            {message.when}, {message.direction}
          </p>
          {message.subject ? <p class="subject">{message.subject}</p> : null}
          <p class="body" lang={message.lang}>
            <Tappable words={message.body} />
          </p>
        </li>
      ))}
    </ol>
  );
}

/** Words as a telephone shows them: the shop's own links can be tapped. */
function Tappable(props: { words: string }) {
  const pieces = props.words.split(/(https?:\/\/[^\s/]+\/w\/[a-z2-7]{21})/);
  return (
    <>
      {pieces.map((piece, at) =>
        at % 2 === 1 ? <a href={piece.slice(piece.indexOf('/w/'))}>{piece}</a> : piece,
      )}
    </>
  );
}
