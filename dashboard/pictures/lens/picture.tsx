import type { LensDrawing, LensPicture } from './view.ts';

/** Pixels of the drawing for one millimetre: the picture is to scale within itself. */
const PX_PER_MM = 4;
const MARGIN_MM = 4;

/** Both lenses to scale in millimetres, as someone facing the wearer sees them, with a table of the same numbers. */
export function LensPictureSvg(props: { picture: LensPicture; id: string }) {
  const { picture, id } = props;
  const { right, left, dblMm } = picture;
  const heightMm = Math.max(right.bMm, left.bMm) + 2 * MARGIN_MM + 6;
  const widthMm = right.aMm + dblMm + left.aMm + 2 * MARGIN_MM;
  const rightMiddle = MARGIN_MM + right.aMm / 2;
  const leftMiddle = MARGIN_MM + right.aMm + dblMm + left.aMm / 2;
  const middleY = MARGIN_MM + Math.max(right.bMm, left.bMm) / 2;
  return (
    <figure class="lens-picture">
      <svg
        viewBox={`0 0 ${px(widthMm)} ${px(heightMm)}`}
        role="img"
        aria-labelledby={`${id}-title ${id}-desc`}
        preserveAspectRatio="xMidYMid meet"
      >
        <title id={`${id}-title`}>Both lenses, seen from the front, to scale</title>
        <desc id={`${id}-desc`}>{picture.says}</desc>
        <path class="bridge" d={bridge(rightMiddle + right.aMm / 2, dblMm, middleY - right.bMm * 0.22)} />
        <Lens lens={right} xMm={rightMiddle} yMm={middleY} name="R" />
        <Lens lens={left} xMm={leftMiddle} yMm={middleY} name="L" />
        <g
          class="scale"
          transform={`translate(${px(rightMiddle + right.aMm / 2 + dblMm / 2 - 5)} ${px(heightMm - 4)})`}
        >
          <path d={`M0 -3 V3 M0 0 H${px(10)} M${px(10)} -3 V3`} />
          <text x={px(5)} y="-10">
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

function Lens(props: { lens: LensDrawing; xMm: number; yMm: number; name: string }) {
  const { lens } = props;
  return (
    <g transform={`translate(${px(props.xMm)} ${px(props.yMm)})`}>
      <path class="rim" d={rim(lens)} />
      {lens.corridor ? <path class="corridor" d={corridor(lens.corridor)} /> : null}
      {lens.near ? (
        <circle class="near" cx={px(lens.near.xMm)} cy={-px(lens.near.yMm)} r={px(lens.near.radiusMm)} />
      ) : null}
      {lens.pupil ? (
        <circle class="pupil" cx={px(lens.pupil.xMm)} cy={-px(lens.pupil.yMm)} r={px(2)} />
      ) : null}
      {lens.prismPoint ? (
        <circle class="prism-point" cx={px(lens.prismPoint.xMm)} cy={-px(lens.prismPoint.yMm)} r={px(0.7)} />
      ) : null}
      {lens.crossOrdered ? <path class="cross ordered" d={cross(lens.crossOrdered)} /> : null}
      {lens.cross ? <path class="cross" d={cross(lens.cross)} /> : null}
      <text class="eye" x="0" y={-px(lens.bMm / 2 - 6)}>
        {props.name}
      </text>
      {lens.pupil && lens.cross ? <path class="level" d={level(lens)} /> : null}
      {lens.offBy ? (
        <text class="off-by" x="0" y={px(lens.bMm / 2) + 26}>
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
      <KeyEntry words="near zone" shape={<circle class="near" cx="9" cy="9" r="7" />} />
    </ul>
  );
}

function KeyEntry(props: { words: string; shape: unknown }) {
  return (
    <li>
      <svg viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
        {props.shape as never}
      </svg>
      {props.words}
    </li>
  );
}

const px = (mm: number): number => Math.round(mm * PX_PER_MM * 10) / 10;

function cross(at: { xMm: number; yMm: number }): string {
  const x = px(at.xMm);
  const y = -px(at.yMm);
  const arm = px(2.5);
  return `M${x - arm} ${y} H${x + arm} M${x} ${y - arm} V${y + arm}`;
}

/** A line at the pupil's height across the lens, so that a cross above or below it is seen. */
function level(lens: LensDrawing): string {
  const y = -px(lens.pupil?.yMm ?? 0);
  return `M${-px(lens.aMm / 2)} ${y} H${px(lens.aMm / 2)}`;
}

function corridor(c: NonNullable<LensDrawing['corridor']>): string {
  const half = px(c.widthMm / 2);
  const top = -px(c.fromYMm);
  const bottom = -px(c.toYMm);
  const topX = px(c.topXMm);
  const bottomX = px(c.bottomXMm);
  return `M${topX - half} ${top} L${topX + half} ${top} L${bottomX + half} ${bottom} L${bottomX - half} ${bottom} Z`;
}

function rim(lens: LensDrawing): string {
  if (lens.rim.length > 2) {
    return `${lens.rim.map((p, i) => `${i === 0 ? 'M' : 'L'}${px(p.xMm)} ${-px(p.yMm)}`).join(' ')} Z`;
  }
  const w = px(lens.aMm / 2);
  const h = px(lens.bMm / 2);
  const r = Math.min(w, h) * 0.55;
  return (
    `M${-w + r * 0.6} ${-h} H${w - r * 0.6} Q${w} ${-h} ${w} ${-h + r * 0.6} V${h - r} Q${w} ${h} ${w - r} ${h} ` +
    `H${-w + r} Q${-w} ${h} ${-w} ${h - r} V${-h + r * 0.6} Q${-w} ${-h} ${-w + r * 0.6} ${-h} Z`
  );
}

function bridge(fromXMm: number, dblMm: number, yMm: number): string {
  const x1 = px(fromXMm);
  const x2 = px(fromXMm + dblMm);
  const y = px(yMm);
  return `M${x1} ${y} Q${(x1 + x2) / 2} ${y - px(4)} ${x2} ${y}`;
}
