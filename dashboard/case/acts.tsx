import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import type { CaseView } from './view.ts';

/** The suggested act with its reason, and the others. */
export function Acts(props: { view: CaseView; csrf: string }) {
  const { view, csrf } = props;
  const suggested = view.acts[0];
  if (view.closed) {
    return (
      <section class="acts" aria-labelledby="acts-heading">
        <h2 id="acts-heading">Closed</h2>
        <p>
          {view.closed.outcome}, {view.closed.when}, by {view.closed.by}.
        </p>
        <PostForm action={`/cases/${view.caseId}/reopen`} csrf={csrf} class="one-button">
          <button type="submit">Open it again</button>
        </PostForm>
      </section>
    );
  }
  return (
    <section class="acts" aria-labelledby="acts-heading">
      <h2 id="acts-heading">Do</h2>
      {suggested ? (
        <div class="suggested">
          <p class="why">
            <b>{suggested.words}</b>, {suggested.way}: {suggested.why}
          </p>
          {view.cost ? <p class="cost">{view.cost}</p> : null}
        </div>
      ) : (
        <p class="soft">Nothing is suggested yet. You may choose all the same.</p>
      )}
      <PostForm action={`/cases/${view.caseId}/act`} csrf={csrf} class="act-form" label="Choose what to do">
        <input type="hidden" name="seen_version" value={String(view.version)} />
        <div class="pair-of-fields">
          <Select
            name="way"
            id="act-way"
            label="How"
            choices={view.ways}
            value={typedBefore(view.values, 'way') ?? suggested?.way}
            trouble={troubleOf(view.troubles, 'way')}
          />
          <div class="field">
            <label for="act-note">Note for the others</label>
            <input id="act-note" name="note" value={typedBefore(view.values, 'note')} autocomplete="off" />
          </div>
        </div>
        <div class="buttons">
          {view.acts.map((offer, index) =>
            offer.opensAt ? (
              <a class={index === 0 ? 'button act' : 'button'} href={offer.opensAt} title={offer.why}>
                {offer.words}
              </a>
            ) : (
              <button
                type="submit"
                name="act"
                value={offer.act}
                class={index === 0 ? 'act' : undefined}
                title={offer.why}
                data-act={index === 0 ? 'first' : undefined}
              >
                {offer.words}
              </button>
            ),
          )}
        </div>
      </PostForm>
    </section>
  );
}

/** What is written for it, what the lab was asked, and the end of the case. */
export function PapersAndEnd(props: { view: CaseView; csrf: string }) {
  const { view, csrf } = props;
  if (view.closed && view.papers.length === 0) return null;
  return (
    <section class="acts" aria-labelledby="papers-heading">
      <h2 id="papers-heading">{view.closed ? 'Papers' : 'Papers and end'}</h2>
      <Papers view={view} />
      {view.claim && !view.closed ? <Claim claim={view.claim} caseId={view.caseId} csrf={csrf} /> : null}
      {view.closed ? null : <Close view={view} csrf={csrf} />}
    </section>
  );
}

function Close(props: { view: CaseView; csrf: string }) {
  const { view, csrf } = props;
  return (
    <details class="close">
      <summary>Close the case</summary>
      {view.cannotSettle ? <p class="caution">It cannot be called settled: {view.cannotSettle}.</p> : null}
      <PostForm action={`/cases/${view.caseId}/close`} csrf={csrf}>
        <input type="hidden" name="seen_version" value={String(view.version)} />
        <Select
          name="outcome"
          id="close-outcome"
          label="How it ended"
          choices={view.outcomes}
          value={typedBefore(view.values, 'outcome')}
          trouble={troubleOf(view.troubles, 'outcome')}
        />
        <div class="pair-of-fields">
          <Select
            name="reason"
            id="close-reason"
            label="If it came back, because of"
            choices={[{ value: '', words: 'it stays with them' }, ...view.reasons]}
            value={typedBefore(view.values, 'reason')}
          />
          <Select
            name="borne_by"
            id="close-borne"
            label="Borne by"
            choices={[{ value: '', words: 'nobody' }, ...view.bearers]}
            value={typedBefore(view.values, 'borne_by')}
          />
        </div>
        <Select
          name="cause"
          id="close-cause"
          label="What it was"
          choices={[
            { value: '', words: 'not known' },
            ...view.causes.map((cause) => ({ value: cause.id, words: cause.name })),
          ]}
        />
        <Select
          name="cause_how"
          id="close-cause-how"
          label="How you know"
          choices={[
            { value: '', words: 'only a guess' },
            { value: 'found at the bench', words: 'found at the bench' },
            { value: 'cured by the act', words: 'cured by what we did' },
          ]}
        />
        <button type="submit">Close</button>
      </PostForm>
    </details>
  );
}

const CLAIM_STEPS = {
  asked: 'asked the lab',
  sent: 'sent the lenses back',
  promised: 'the lab has promised',
  credited: 'the lab has credited',
} as const;

/** What the lab was asked for this pair, and the next thing to note of it. */
function Claim(props: { claim: NonNullable<CaseView['claim']>; caseId: string; csrf: string }) {
  const { claim } = props;
  return (
    <details class="close" open={claim.reminder !== null}>
      <summary>The lab: {claim.stands}</summary>
      {claim.reminder ? <p class="caution">{claim.reminder}</p> : null}
      {claim.steps.length > 0 ? (
        <PostForm action={`/cases/${props.caseId}/claim`} csrf={props.csrf}>
          <Select
            name="what"
            id="claim-what"
            label="Note that we or they"
            choices={claim.steps.map((step) => ({ value: step, words: CLAIM_STEPS[step] }))}
          />
          <div class="pair-of-fields">
            <Field name="amount" id="claim-amount" label="Amount, if any" inputmode="decimal" />
            <Field name="send_back_by" id="claim-by" label="Lenses to go back by" type="date" />
          </div>
          <button type="submit">Note it</button>
        </PostForm>
      ) : null}
    </details>
  );
}

function Papers(props: { view: CaseView }) {
  if (props.view.papers.length === 0) return null;
  return (
    <ul class="papers">
      {props.view.papers.map((paper) => (
        <li>
          <a href={paper.href}>{paper.words}</a>
        </li>
      ))}
    </ul>
  );
}
