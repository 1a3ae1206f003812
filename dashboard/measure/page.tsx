import { Field, PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { MeasureAtHomeView } from './view.ts';

/** Measuring at a distance: print or send the instructions, then enter what came back. */
export function MeasureAtHomePage(props: { shell: ShellView; view: MeasureAtHomeView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="measure">
      <p class="lead">
        <a href={view.jobHref}>Job {view.jobNumber}</a>, {view.wearer}.{' '}
        {view.caseHref ? <a href={view.caseHref}>There is a case.</a> : null}
      </p>
      <Send view={view} csrf={shell.csrf} />
      <section aria-labelledby="back-heading">
        <h2 id="back-heading">What came back</h2>
        <p class="soft">
          {view.fittingHeight} What is entered here is kept with where it is from and its usual error, and
          weighs the less for it. A number taken on the face stands above it.
        </p>
        <div class="two-ways">
          <Tape view={view} csrf={shell.csrf} />
          <Photo view={view} csrf={shell.csrf} />
        </div>
      </section>
      {view.kept.length > 0 ? <Kept view={view} /> : null}
    </Shell>
  );
}

function Send(props: { view: MeasureAtHomeView; csrf: string }) {
  const { view } = props;
  const usable = view.channels.filter((channel) => channel.cannot === null);
  const trouble = troubleOf(view.troubles, 'channel');
  return (
    <section aria-labelledby="ask-heading">
      <h2 id="ask-heading">Ask them</h2>
      <p>
        Print the sheet:{' '}
        {view.sheets.map((sheet, at) => (
          <>
            {at > 0 ? ', ' : ''}
            <a href={sheet.href}>{sheet.words}</a>
          </>
        ))}
        .
      </p>
      {usable.length > 0 ? (
        <PostForm action={`/jobs/${view.jobId}/measure/send`} csrf={props.csrf} class="buttons">
          {usable.map((channel) => (
            <button type="submit" name="channel" value={channel.value}>
              {channel.words}
            </button>
          ))}
          <p class="hint">{view.sends}</p>
        </PostForm>
      ) : null}
      {view.channels
        .filter((channel) => channel.cannot !== null)
        .map((channel) => (
          <p class="soft">
            {channel.words}: {channel.cannot}
          </p>
        ))}
      {trouble ? <p class="mend">{trouble}</p> : null}
    </section>
  );
}

function Tape(props: { view: MeasureAtHomeView; csrf: string }) {
  const { view } = props;
  return (
    <PostForm
      action={`/jobs/${view.jobId}/measure/tape`}
      csrf={props.csrf}
      class="way"
      label="Dots on tape and a ruler"
    >
      <h3>Dots on tape and a ruler</h3>
      <p class="hint">
        From the dot before the pupil straight down to the lowest point of the lens, rim left out.{' '}
        {view.errors.tape}
      </p>
      <div class="pair-of-fields">
        <Figure view={view} name="right_mm" label="Right, mm" />
        <Figure view={view} name="left_mm" label="Left, mm" />
      </div>
      <button type="submit">Keep</button>
    </PostForm>
  );
}

function Photo(props: { view: MeasureAtHomeView; csrf: string }) {
  const { view } = props;
  return (
    <PostForm
      action={`/jobs/${view.jobId}/measure/photo`}
      csrf={props.csrf}
      class="way"
      label="Straight-on photograph"
    >
      <h3>Straight-on photograph</h3>
      <p class="hint">
        Measure on the picture in any unit; the height of the lens is the scale. {view.errors.photo}
      </p>
      <p>
        <a href={`/jobs/${view.jobId}/photo`}>Mark it on the screen instead</a>: each number comes with its
        plus-minus.
      </p>
      <div class="pair-of-fields">
        <Figure view={view} name="lens_height_mm" label="Height of the lens, mm" value={view.lensHeightMm} />
        <Figure view={view} name="lens_height_in_picture" label="The same in the picture" />
      </div>
      <fieldset>
        <legend>In the picture, from the lowest point of the lens up to the pupil</legend>
        <div class="pair-of-fields">
          <Figure view={view} name="pupil_right_in_picture" label="Right" />
          <Figure view={view} name="pupil_left_in_picture" label="Left" />
        </div>
      </fieldset>
      <fieldset>
        <legend>For the PD, if you like: from the middle of the bridge to each pupil</legend>
        <div class="three-fields">
          <Figure view={view} name="bridge_right_in_picture" label="Right" optional />
          <Figure view={view} name="bridge_left_in_picture" label="Left" optional />
          <Figure view={view} name="camera_cm" label="Camera away, cm" optional />
        </div>
      </fieldset>
      <button type="submit">Keep</button>
    </PostForm>
  );
}

function Figure(props: {
  view: MeasureAtHomeView;
  name: string;
  label: string;
  value?: string;
  optional?: boolean;
}) {
  const { view, name, label } = props;
  return (
    <Field
      name={name}
      id={`measure-${name.replaceAll('_', '-')}`}
      label={label}
      inputmode="decimal"
      required={props.optional !== true}
      value={typedBefore(view.values, name) ?? props.value}
      trouble={troubleOf(view.troubles, name)}
    />
  );
}

function Kept(props: { view: MeasureAtHomeView }) {
  return (
    <section aria-labelledby="kept-heading">
      <h2 id="kept-heading">Measured at a distance so far</h2>
      <WideTable label="Measured at a distance">
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">R</th>
              <th scope="col">L</th>
              <th scope="col">From</th>
            </tr>
          </thead>
          <tbody>
            {props.view.kept.map((line) => (
              <tr>
                <th scope="row">{line.name}</th>
                <td>{line.right}</td>
                <td>{line.left}</td>
                <td>{line.from}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
    </section>
  );
}
