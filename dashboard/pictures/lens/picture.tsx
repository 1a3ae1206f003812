import { Named } from '../../pieces/term.tsx';
import type { LensDrawing, LensPicture, PicturePoint } from './view.ts';

/** Pixels of the drawing for one millimetre: the picture is to scale within itself. */
const PX_PER_MM = 4;
const MARGIN_MM = 4;
/** Under the lenses: what is off, and the scale. */
const FOOT_MM = 9;
/** Half width at which the near zone is drawn; its true width hangs on the design. */
const NEAR_HALF_MM = 6;

/** Both lenses to scale in millimetres, as someone facing the wearer sees them, with a table of the same numbers. */
export function LensPictureSvg(props: { picture: LensPicture; id: string }) {
  const { picture, id } = props;
  const { R, L } = picture;
  const left = R.box.leftMm - MARGIN_MM;
  const top = Math.max(R.box.topMm, L.box.topMm) + MARGIN_MM;
  const width = L.box.rightMm + MARGIN_MM - left;
  const height = top + FOOT_MM - Math.min(R.box.bottomMm, L.box.bottomMm);
  return (
    <figure class="lens-picture">
      <svg
        viewBox={`${px(left)} ${-px(top)} ${px(width)} ${px(height)}`}
        role="img"
        aria-labelledby={`${id}-title ${id}-desc`}
      >
        <title id={`${id}-title`}>Both lenses, seen from the front, to scale</title>
        <desc id={`${id}-desc`}>{picture.says}</desc>
        <path class="bridge" d={bridge(R, L)} />
        <Lens lens={R} name="R" />
        <Lens lens={L} name="L" />
        <g class="scale">
          <path d={`M${px(-5)} 20 v6 m0 -3 h${px(10)} m0 -3 v6`} />
          <text x="0" y="14">
            10 mm
          </text>
        </g>
      </svg>
      <figcaption>
        <p>{picture.says}</p>
        <Key />
        <details>
          <summary>The same as a table</summary>
          <table>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">R</th>
                <th scope="col">L</th>
              </tr>
            </thead>
            <tbody>
              {picture.table.map((row) => (
                <tr>
                  <th scope="row">{row.name}</th>
                  <td>{row.right}</td>
                  <td>{row.left}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      </figcaption>
    </figure>
  );
}

function Lens(props: { lens: LensDrawing; name: string }) {
  const { lens } = props;
  const middle = px((lens.box.leftMm + lens.box.rightMm) / 2);
  return (
    <g>
      {lens.nearZone && lens.nearZone.heightMm > 0 ? <path class="near" d={nearZone(lens.nearZone)} /> : null}
      {lens.corridor ? <path class="corridor" d={corridor(lens.corridor)} /> : null}
      <path class="rim" d={rim(lens)} />
      {lens.pupil && lens.cross ? (
        <path class="level" d={`M${px(lens.box.leftMm)} ${-px(lens.pupil.yMm)} H${px(lens.box.rightMm)}`} />
      ) : null}
      {lens.pupil ? (
        <circle class="pupil" cx={px(lens.pupil.xMm)} cy={-px(lens.pupil.yMm)} r={px(2)} />
      ) : null}
      {lens.prismReferencePoint ? (
        <circle
          class="prism-point"
          cx={px(lens.prismReferencePoint.xMm)}
          cy={-px(lens.prismReferencePoint.yMm)}
          r={px(0.7)}
        />
      ) : null}
      {lens.crossOrdered ? <path class="cross ordered" d={cross(lens.crossOrdered)} /> : null}
      {lens.cross ? <path class="cross" d={cross(lens.cross)} /> : null}
      <text class="eye" x={middle} y={-px(lens.box.topMm - 6)}>
        {props.name}
      </text>
      {lens.offBy ? (
        <text class="off-by" x={middle} y={-px(lens.box.bottomMm) + 26}>
          {lens.offBy}
        </text>
      ) : null}
    </g>
  );
}

/** What each mark stands for, drawn as it is drawn. */
function Key() {
  return (
    <ul class="key">
      <KeyEntry words="fitting cross" shape={<path class="cross" d="M2 9 H16 M9 2 V16" />} />
      <KeyEntry words="cross as ordered" shape={<path class="cross ordered" d="M2 9 H16 M9 2 V16" />} />
      <KeyEntry words="pupil" shape={<circle class="pupil" cx="9" cy="9" r="6" />} />
      <KeyEntry words="prism reference point" shape={<circle class="prism-point" cx="9" cy="9" r="3" />} />
      <KeyEntry words="corridor" shape={<path class="corridor" d="M6 2 H12 V16 H6 Z" />} />
      <KeyEntry words="near zone" shape={<path class="near" d="M2 16 Q2 4 9 4 Q16 4 16 16" />} />
    </ul>
  );
}

function KeyEntry(props: { words: string; shape: unknown }) {
  return (
    <li>
      <svg viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
        {props.shape as never}
      </svg>
      <Named name={props.words} />
    </li>
  );
}

const px = (mm: number): number => Math.round(mm * PX_PER_MM * 10) / 10;

function cross(at: PicturePoint): string {
  const x = px(at.xMm);
  const y = -px(at.yMm);
  const arm = px(2.5);
  return `M${x - arm} ${y} H${x + arm} M${x} ${y - arm} V${y + arm}`;
}

function corridor({ from, to, widthMm }: NonNullable<LensDrawing['corridor']>): string {
  const half = px((widthMm ?? 4) / 2);
  const [x1, y1, x2, y2] = [px(from.xMm), -px(from.yMm), px(to.xMm), -px(to.yMm)];
  return `M${x1 - half} ${y1} L${x1 + half} ${y1} L${x2 + half} ${y2} L${x2 - half} ${y2} Z`;
}

/** An arch from its top down to the rim. */
function nearZone({ top, heightMm }: NonNullable<LensDrawing['nearZone']>): string {
  const [x, y, half, bottom] = [px(top.xMm), -px(top.yMm), px(NEAR_HALF_MM), -px(top.yMm - heightMm)];
  const shoulder = y + Math.min(px(4), bottom - y);
  return `M${x - half} ${bottom} V${shoulder} Q${x - half} ${y} ${x} ${y} Q${x + half} ${y} ${x + half} ${shoulder} V${bottom} Z`;
}

const rim = (lens: LensDrawing): string =>
  `${lens.rim.map((point, index) => `${index === 0 ? 'M' : 'L'}${px(point.xMm)} ${-px(point.yMm)}`).join(' ')} Z`;

function bridge(R: LensDrawing, L: LensDrawing): string {
  const y = -px(R.box.bottomMm + (R.box.topMm - R.box.bottomMm) * 0.62);
  return `M${px(R.box.rightMm)} ${y} Q0 ${y - px(4)} ${px(L.box.leftMm)} ${y}`;
}
