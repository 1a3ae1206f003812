import { PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import type { JobView } from './view.ts';

/** One line to add a number to the job: what the bench read of the finished pair first, then all others. */
export function AddNumber(props: { view: JobView; csrf: string }) {
  const { view } = props;
  const trouble = troubleOf(view.troubles, 'value') ?? troubleOf(view.troubles, 'key');
  const was = (name: string) => typedBefore(view.values, name);
  return (
    <PostForm action={`/jobs/${view.jobId}/facts`} csrf={props.csrf} class="fact-form" label="Add a number">
      <div class="field">
        <label for="number-key">Add a number</label>
        <select id="number-key" name="key">
          {view.factKinds.map((group) => (
            <optgroup label={group.heading}>
              {group.kinds.map((kind) => (
                <option value={kind.key} selected={was('key') === kind.key}>
                  {kind.name}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </div>
      <div class="field narrow">
        <label for="number-eye">Eye</label>
        <select id="number-eye" name="eye">
          {['R', 'L', ''].map((eye) => (
            <option value={eye} selected={was('eye') === eye}>
              {eye === '' ? 'pair' : eye}
            </option>
          ))}
        </select>
      </div>
      <div class="field narrow">
        <label for="number-value">Found</label>
        <input
          id="number-value"
          name="value"
          required
          autocomplete="off"
          value={was('value')}
          aria-invalid={trouble ? 'true' : undefined}
          aria-describedby={trouble ? 'number-trouble' : undefined}
        />
      </div>
      <div class="field">
        <label for="number-how">How measured</label>
        <input id="number-how" name="how" autocomplete="off" value={was('how')} />
      </div>
      <button type="submit">Add</button>
      {trouble ? (
        <p class="mend" id="number-trouble">
          {trouble}
        </p>
      ) : null}
    </PostForm>
  );
}
