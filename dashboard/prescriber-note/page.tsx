import { PostForm } from '../pieces/form.tsx';
import { Blank, Paper } from '../pieces/paper.tsx';
import { maySign, Signer } from '../pieces/signer.tsx';
import { WideTable } from '../pieces/table.tsx';
import { OwnWords } from '../pieces/words.tsx';
import type { PrescriberNoteView } from './view.ts';

/** One page to the prescriber: powers, place on the face, the complaint in own words, what was tried, the question. */
export function PrescriberNotePage(props: { csrf: string; view: PrescriberNoteView }) {
  const { view } = props;
  return (
    <Paper
      title={`To the prescriber: ${view.wearer}`}
      shopName={`${view.shopName}, ${view.shopPhone}`}
      on={view.on}
      invented={view.invented}
      backHref={view.caseHref}
    >
      {view.trouble ? <p class="mend no-print">{view.trouble}</p> : null}
      {view.born ? <p>Born {view.born}.</p> : null}
      <h2>The complaint, in their words</h2>
      {view.words.map((line) => (
        <p>
          <OwnWords words={{ ...line.words, marks: [] }} /> <span class="when">{line.when}</span>
        </p>
      ))}
      <h2>Powers</h2>
      <WideTable label="Powers">
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">R</th>
              <th scope="col">L</th>
            </tr>
          </thead>
          <tbody>
            {view.powers.map((line) => (
              <tr>
                <th scope="row">{line.name}</th>
                <td>{line.right}</td>
                <td>{line.left}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <h2>Place on the face</h2>
      <ul class="plain-list">
        {view.place.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
      {view.seen && view.seen.length > 0 ? (
        <>
          <h2>Read and asked</h2>
          <ul class="plain-list">
            {view.seen.map((line) => (
              <li>{line}</li>
            ))}
          </ul>
        </>
      ) : null}
      <h2>Tried so far</h2>
      <ul class="plain-list">
        {view.tried.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
      {view.caution ? <p class="caution">{view.caution}</p> : null}
      <h2>Our question</h2>
      {view.signed ? (
        <>
          <p>{view.question}</p>
          <p class="signed">
            {view.signed.by}, {view.signed.licence}, {view.signed.when}
          </p>
        </>
      ) : (
        <PostForm action={`/cases/${view.caseId}/prescriber/sign`} csrf={props.csrf} class="sign-form">
          <input type="hidden" name="seen_version" value={String(view.version)} />
          <label for="note-question" class="no-print">
            The question, as it will stand
          </label>
          <textarea id="note-question" name="question" rows={3} required>
            {view.question}
          </textarea>
          <div class="blanks">
            <Blank label="To be signed by a licensed person" />
            <Blank label="On" />
          </div>
          <div class="no-print">
            {(view.kept ?? []).map((line) => (
              <p class="hint">{line}</p>
            ))}
            <Signer signers={view.signers} me={view.me} />
            {maySign(view.signers, view.me) ? (
              <button type="submit" class="act">
                Sign
              </button>
            ) : null}
            <button type="submit" formaction={`/cases/${view.caseId}/prescriber/keep`}>
              Keep it, to be signed later
            </button>
            <p class="hint">It is sent only by a person, with the wearer’s leave.</p>
          </div>
        </PostForm>
      )}
    </Paper>
  );
}
