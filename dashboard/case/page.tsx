import { LensPictureSvg } from '../pictures/lens/picture.tsx';
import { TintPictureSvg } from '../pictures/tint/picture.tsx';
import { Deadlines } from '../pieces/deadlines.tsx';
import { PostForm } from '../pieces/form.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import { Acts, PapersAndEnd } from './acts.tsx';
import { Causes } from './causes.tsx';
import { FittingSheet } from './facts.tsx';
import { Talk } from './talk.tsx';
import type { CaseView } from './view.ts';

/** One wearer's trouble with one pair: the talk beside the causes, the numbers, the picture, the act. */
export function CasePage(props: { shell: ShellView; view: CaseView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="case" ownHeading>
      <Head view={view} csrf={shell.csrf} />
      {view.danger ? <Danger view={view} csrf={shell.csrf} /> : null}
      {view.changed.length > 0 ? (
        <div class="notice trouble" role="alert">
          <p>Nothing was done: the case has changed since you looked. Read what is new, then choose again.</p>
          <ul>
            {view.changed.map((change) => (
              <li>{change}</li>
            ))}
          </ul>
        </div>
      ) : null}
      <div class="case-sheet">
        <Talk view={view} csrf={shell.csrf} />
        <Causes view={view} csrf={shell.csrf} />
        <div class="case-right">
          <Acts view={view} csrf={shell.csrf} />
          <section class="place" aria-labelledby="place-heading">
            <h2 id="place-heading">On the face</h2>
            {view.picture ? (
              <LensPictureSvg picture={view.picture} id="lens" />
            ) : (
              <p class="soft">No picture yet: {view.noPicture}</p>
            )}
          </section>
          {view.tint ? (
            <section aria-labelledby="tint-heading">
              <h2 id="tint-heading">Tint</h2>
              <TintPictureSvg picture={view.tint} id="case-tint" />
            </section>
          ) : null}
          <PapersAndEnd view={view} csrf={shell.csrf} />
        </div>
      </div>
      <FittingSheet view={view} csrf={shell.csrf} />
    </Shell>
  );
}

function Head(props: { view: CaseView; csrf: string }) {
  const { view, csrf } = props;
  const { wearer, pair } = view;
  return (
    <header class="case-head">
      <div class="who">
        <h1>
          <a href={wearer.href}>{wearer.name}</a>
        </h1>
        <p>
          {pair.day === null ? 'day not known' : `day ${pair.day}`}, {pair.words}.{' '}
          <a href={pair.jobHref}>Job {pair.jobNumber}</a>
        </p>
        <p class="reach">
          {sentence(pair.firstWorn)} {wearer.phone ? `${wearer.phone}. ` : ''}
          {wearer.localTime}. {sentence(wearer.reachedBy)}
        </p>
      </div>
      <div class="stand">
        <p class="state">
          {view.closed ? `closed: ${view.closed.outcome}, ${view.closed.when}` : view.state}
        </p>
        {view.alsoOpenWith ? <p class="also">{view.alsoOpenWith} has this case open too.</p> : null}
        {view.closed ? null : <Hold view={view} csrf={csrf} />}
      </div>
      <Deadlines deadlines={view.deadlines} full />
    </header>
  );
}

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

function Hold(props: { view: CaseView; csrf: string }) {
  const { held, caseId } = props.view;
  if (held === null) {
    return (
      <PostForm action={`/cases/${caseId}/hold`} csrf={props.csrf} class="hold">
        <button type="submit">Hold it</button>
        <label for="again-on">again on</label>
        <input id="again-on" type="date" name="again_on" />
      </PostForm>
    );
  }
  return (
    <div class="hold">
      <p class="soft">Automatic messages are paused{held.againOn ? `; again on ${held.againOn}` : ''}.</p>
      <PostForm action={`/cases/${caseId}/release`} csrf={props.csrf} class="one-button">
        <button type="submit">{held.byMe ? 'Let it go' : `Take it from ${held.by}`}</button>
      </PostForm>
    </div>
  );
}

function Danger(props: { view: CaseView; csrf: string }) {
  const { danger, caseId, wearer } = props.view;
  if (danger === null) return null;
  return (
    <section class="danger" aria-labelledby="danger-heading">
      <h2 id="danger-heading">
        <span class="sign">May be in danger.</span> No cause is weighed: a person rings now.
      </h2>
      <div class="do">
        {wearer.phone ? (
          <a class="button act" href={`tel:${wearer.phone.replace(/[^+\d]/g, '')}`}>
            Ring now {wearer.phone}
          </a>
        ) : null}
        {danger.hasIt === null ? (
          <PostForm action={`/cases/${caseId}/have-it`} csrf={props.csrf} class="one-button">
            <button type="submit">I have it</button>
          </PostForm>
        ) : (
          <p>
            <b>{danger.hasIt}</b> has it.
          </p>
        )}
      </div>
      <p class="facts">
        {danger.cautionReached ? danger.caution : <strong>{danger.caution}</strong>}. {danger.told}. Nobody at
        the desk decides that it is harmless: local rules and the clinician come first. Write down when, who,
        and what was said.
      </p>
    </section>
  );
}
