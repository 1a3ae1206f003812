import { PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import { MarkedPicture } from './picture.tsx';
import type { PhotoMarksView, PhotosView } from './view.ts';

/** Photographs of a pair to measure on: hand one in, or take one that the wearer sent. */
export function PhotosPage(props: { shell: ShellView; view: PhotosView }) {
  const { shell, view } = props;
  const trouble = troubleOf(view.troubles, 'picture');
  return (
    <Shell shell={shell} class="photo">
      <Where view={view} />
      <p class="soft">
        Straight on, from one metre or more, the camera at the height of their eyes. They stand as they do and
        look into the lens. Place, time and device are taken out of the picture before it is kept; it is
        removed 30 days after the case is closed.
      </p>
      <PostForm action={`/jobs/${view.jobId}/photo`} csrf={shell.csrf} files class="hand-in">
        <label for="photo-file">Photograph (JPEG, PNG or WebP)</label>
        {trouble ? (
          <p class="mend" id="photo-trouble">
            {trouble}
          </p>
        ) : null}
        <input
          id="photo-file"
          type="file"
          name="picture"
          accept="image/jpeg,image/png,image/webp"
          required
          aria-describedby={trouble ? 'photo-trouble' : undefined}
        />
        <button type="submit" class="act">
          Measure on it
        </button>
      </PostForm>
      {view.sent.length > 0 ? (
        <section aria-labelledby="sent-heading">
          <h2 id="sent-heading">Sent by {view.wearer}</h2>
          <ul class="sent-pictures">
            {view.sent.map((picture) => (
              <li>
                <a href={picture.src}>
                  <img src={picture.src} alt={picture.words} loading="lazy" width="144" />
                </a>
                <PostForm action={`/jobs/${view.jobId}/photo`} csrf={shell.csrf} class="one-button">
                  <input type="hidden" name="sent_picture" value={picture.pictureId} />
                  <button type="submit">
                    Measure on it<span class="unseen">: {picture.words}</span>
                  </button>
                </PostForm>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      {view.pictures.length > 0 ? (
        <section aria-labelledby="before-heading">
          <h2 id="before-heading">Measured on before</h2>
          <ul class="plain-list">
            {view.pictures.map((picture) => (
              <li>
                {picture.href ? (
                  <a href={picture.href}>{picture.words}</a>
                ) : (
                  <span class="soft">{picture.words}</span>
                )}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </Shell>
  );
}

/** Marks on one photograph, and what follows from them: an estimate beside the ordered numbers. */
export function PhotoMarksPage(props: { shell: ShellView; view: PhotoMarksView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="photo">
      <Where view={view} />
      <p class="soft">
        {view.came}. Drag each line to its edge and each ring to the middle of its pupil, or write the
        numbers.
      </p>
      {view.result ? <Result view={view} csrf={shell.csrf} result={view.result} /> : null}
      <div class="on-photo">
        <MarkedPicture view={view} />
        <MarksForm view={view} csrf={shell.csrf} />
      </div>
      <script src="/photo.js" defer></script>
    </Shell>
  );
}

function Where(props: { view: Pick<PhotosView, 'jobHref' | 'jobNumber' | 'wearer' | 'caseHref' | 'jobId'> }) {
  const { view } = props;
  return (
    <p class="lead">
      <a href={view.jobHref}>Job {view.jobNumber}</a>, {view.wearer}.{' '}
      {view.caseHref ? <a href={view.caseHref}>There is a case.</a> : null}{' '}
      <a href={`/jobs/${view.jobId}/photo`}>All photographs</a>
    </p>
  );
}

const EYES = [
  ['r', 'Right lens (on the left of the picture)'],
  ['l', 'Left lens'],
] as const;
const MARKS = [
  ['outer_x', 'Outer edge'],
  ['inner_x', 'Inner edge'],
  ['top_y', 'Top'],
  ['bottom_y', 'Lowest'],
  ['pupil_x', 'Pupil, across'],
  ['pupil_y', 'Pupil, down'],
] as const;

function MarksForm(props: { view: PhotoMarksView; csrf: string }) {
  const { view } = props;
  const stood = typedBefore(view.values, 'stood_as_usual') === 'yes';
  return (
    <PostForm
      action={`/jobs/${view.jobId}/photo/${view.pictureId}/marks`}
      csrf={props.csrf}
      class="marks"
      label="Marks and sizes"
      id="marks"
    >
      <input type="hidden" name="quarter" value={String(view.quarter)} />
      <fieldset>
        <legend>The frame, mm</legend>
        <div class="figures">
          <Figure view={view} name="a_mm" label="A, width" step="0.1" />
          <Figure view={view} name="b_mm" label="B, height" step="0.1" />
          <Figure view={view} name="dbl_mm" label="DBL, between" step="0.1" />
        </div>
      </fieldset>
      <fieldset>
        <legend>The picture</legend>
        <div class="figures">
          <Figure view={view} name="camera_cm" label="Camera away, cm" step="5" />
          <Figure view={view} name="level_deg" label="Level it, degrees" step="0.5" optional />
          <p class="turn">
            <a href={`/jobs/${view.jobId}/photo/${view.pictureId}?quarter=${(view.quarter + 90) % 360}`}>
              Turn it by a quarter
            </a>
          </p>
        </div>
        <label class="tick">
          <input type="checkbox" name="stood_as_usual" value="yes" checked={stood} /> I saw to it that they
          stood as they do, with the camera at the height of their eyes
        </label>
      </fieldset>
      {EYES.map(([eye, words]) => (
        <fieldset>
          <legend>{words}</legend>
          <div class="figures">
            {MARKS.map(([mark, label]) => (
              <Figure view={view} name={`${eye}_${mark}`} label={label} step="1" />
            ))}
          </div>
        </fieldset>
      ))}
      <fieldset>
        <legend>Where each side reaches its ear, across; empty when hair hides it</legend>
        <div class="figures">
          <Figure view={view} name="r_ear_x" label="Right ear" step="1" optional />
          <Figure view={view} name="l_ear_x" label="Left ear" step="1" optional />
        </div>
      </fieldset>
      <button type="submit" class="act">
        Work it out
      </button>
      <p class="hint">
        In a field the arrow keys move its mark by one dot; with Shift by ten. Nothing becomes a number of the
        job before it is signed.
      </p>
    </PostForm>
  );
}

function Figure(props: {
  view: PhotoMarksView;
  name: string;
  label: string;
  step: string;
  optional?: boolean;
}) {
  const { view, name } = props;
  const trouble = troubleOf(view.troubles, name);
  const id = `photo-${name.replaceAll('_', '-')}`;
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      {trouble ? (
        <p class="mend" id={`${id}-trouble`}>
          {trouble}
        </p>
      ) : null}
      <input
        id={id}
        name={name}
        type="number"
        step="any"
        data-step={props.step}
        inputmode="decimal"
        value={typedBefore(view.values, name)}
        required={props.optional !== true}
        aria-describedby={trouble ? `${id}-trouble` : undefined}
        aria-invalid={trouble ? 'true' : undefined}
      />
    </div>
  );
}

function Result(props: {
  view: PhotoMarksView;
  csrf: string;
  result: NonNullable<PhotoMarksView['result']>;
}) {
  const { view, result } = props;
  return (
    <section aria-labelledby="found-heading" class="found">
      <h2 id="found-heading">What the picture says</h2>
      <p class="soft">
        An estimate{result.by ? ` from marks by ${result.by}` : ''}, for the posture in which they stood. The
        truth lies within the plus-minus in 19 of 20 pictures; over 1.5 mm nothing is said.
      </p>
      {result.doubts.map((doubt) => (
        <p class="caution">{doubt}</p>
      ))}
      <WideTable label="Numbers from the picture beside the ordered ones">
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">From the picture</th>
              <th scope="col">Ordered</th>
              <th scope="col">Compared</th>
              <th scope="col">What makes the plus-minus, mm</th>
            </tr>
          </thead>
          <tbody>
            {result.lines.map((line) => (
              <tr>
                <th scope="row">{line.name}</th>
                <td>
                  {line.found === null ? (
                    <>
                      <b>cannot say</b> <span class="soft">{line.plusMinus}</span>
                    </>
                  ) : (
                    <>
                      <b>{line.found}</b> {line.plusMinus}
                    </>
                  )}
                </td>
                <td>{line.ordered}</td>
                <td>{line.against}</td>
                <td class="soft">{line.from}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      {result.signed ? (
        <p class="signed">{result.signed}</p>
      ) : (
        <Sign view={view} csrf={props.csrf} result={result} />
      )}
    </section>
  );
}

function Sign(props: { view: PhotoMarksView; csrf: string; result: NonNullable<PhotoMarksView['result']> }) {
  const { view, result } = props;
  const trouble = troubleOf(view.troubles, 'person_id');
  if (!result.canSign)
    return (
      <p>
        Nothing here is near enough to be kept. Mark both ears, see to the stance, or take another picture.
      </p>
    );
  if (view.signers.length === 0)
    return (
      <p class="caution">
        Nobody here is marked as licensed, so nobody can sign it. <a href="/people">People</a>
      </p>
    );
  return (
    <PostForm
      action={`/jobs/${view.jobId}/photo/${view.pictureId}/sign`}
      csrf={props.csrf}
      class="sign-form"
      label="Sign the estimate"
    >
      <input type="hidden" name="measure_id" value={result.measureId} />
      <Select
        name="person_id"
        id="photo-signer"
        label="Signed by"
        choices={view.signers.map((signer) => ({ value: signer.personId, words: signer.words }))}
        trouble={trouble}
      />
      <button type="submit">Sign, and keep what can be said</button>
      <p class="hint">
        Heights and monocular PDs become numbers of the job, with this photograph as their source. A number
        taken on the face stands above them.
      </p>
    </PostForm>
  );
}
