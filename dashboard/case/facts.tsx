import { PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Named } from '../pieces/term.tsx';
import type { CaseView } from './view.ts';

/** The fitting sheet: every number known of the pair, R over L, with its source, and a line to add one. */
export function FittingSheet(props: { view: CaseView; csrf: string }) {
  const { view } = props;
  const trouble = troubleOf(view.troubles, 'value') ?? troubleOf(view.troubles, 'key');
  return (
    <section class="fitting-sheet" aria-labelledby="facts-heading">
      <h2 id="facts-heading">Fitting sheet</h2>
      {view.facts.length === 0 ? (
        <p class="soft">
          Nothing is known of this pair yet. Each number that you add here sharpens the causes.
        </p>
      ) : (
        <WideTable label="Numbers of this pair">
          <table>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">R</th>
                <th scope="col">L</th>
                <th scope="col">Pair</th>
                <th scope="col">From</th>
              </tr>
            </thead>
            <tbody>
              {view.facts.map((fact) => (
                <tr class={fact.remark ? 'remarked' : ''}>
                  <th scope="row">
                    <Named name={fact.name} means={fact.means} />
                    {fact.unit ? <span class="unit"> {fact.unit}</span> : null}
                  </th>
                  <td>{fact.right}</td>
                  <td>{fact.left}</td>
                  <td>{fact.both}</td>
                  <td>
                    {fact.from}
                    {fact.remark ? <span class="remark">{fact.remark}</span> : null}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      )}
      <PostForm
        action={`/cases/${view.caseId}/facts`}
        csrf={props.csrf}
        class="fact-form"
        label="Add a number"
      >
        <div class="field">
          <label for="fact-key">Add a number</label>
          <select id="fact-key" name="key">
            {view.factKinds.map((kind) => (
              <option value={kind.key} selected={typedBefore(view.values, 'key') === kind.key}>
                {kind.name}
              </option>
            ))}
          </select>
        </div>
        <div class="field narrow">
          <label for="fact-eye">Eye</label>
          <select id="fact-eye" name="eye">
            <option value="">pair</option>
            <option value="R" selected={typedBefore(view.values, 'eye') === 'R'}>
              R
            </option>
            <option value="L" selected={typedBefore(view.values, 'eye') === 'L'}>
              L
            </option>
          </select>
        </div>
        <div class="field narrow">
          <label for="fact-value">Found</label>
          <input
            id="fact-value"
            name="value"
            required
            autocomplete="off"
            value={typedBefore(view.values, 'value')}
            aria-invalid={trouble ? 'true' : undefined}
          />
        </div>
        <div class="field">
          <label for="fact-how">How measured</label>
          <input
            id="fact-how"
            name="how"
            autocomplete="off"
            list="fact-hows"
            value={typedBefore(view.values, 'how')}
          />
          <datalist id="fact-hows">
            <option value="on the face, pen and ruler" />
            <option value="lensmeter" />
            <option value="photograph" />
            <option value="told by the wearer" />
          </datalist>
        </div>
        <button type="submit">Add</button>
        {trouble ? <p class="mend">{trouble}</p> : null}
      </PostForm>
    </section>
  );
}
