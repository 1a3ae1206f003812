import type { TintLine, TintPicture } from './view.ts';

const WIDTH = 480;
const HEIGHT = 260;
const LEFT = 62;
const RIGHT = 16;
const TOP = 26;
const BOTTOM = 46;

/** Tint against time: darkening outdoors, clearing indoors; lines differ by their strokes. */
export function TintPictureSvg(props: { picture: TintPicture; id: string }) {
  const { picture, id } = props;
  const outS = Math.max(1, ...picture.lines.map((line) => line.darkening.at(-1)?.timeS ?? 0));
  const inS = Math.max(1, ...picture.lines.map((line) => line.clearing.at(-1)?.timeS ?? 0));
  const x = (seconds: number) => round(LEFT + (seconds / (outS + inS)) * (WIDTH - LEFT - RIGHT));
  const y = (percent: number) => round(TOP + (1 - percent / 100) * (HEIGHT - TOP - BOTTOM));
  return (
    <figure class="tint-picture" lang={picture.lang}>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby={`${id}-title ${id}-desc`}>
        <title id={`${id}-title`}>{picture.title}</title>
        <desc id={`${id}-desc`}>{picture.says}</desc>
        <rect class="outside" x={LEFT} y={TOP} width={x(outS) - LEFT} height={HEIGHT - TOP - BOTTOM} />
        {[0, 25, 50, 75, 100].map((percent) => (
          <g class="grid">
            <path d={`M${LEFT} ${y(percent)} H${WIDTH - RIGHT}`} />
            <text class="left" x={LEFT - 6} y={y(percent) + 5}>
              {percent} %
            </text>
          </g>
        ))}
        {minuteMarks(outS + inS).map((minute) => (
          <text class="minute" x={x(minute * 60)} y={HEIGHT - BOTTOM + 18}>
            {minute}
          </text>
        ))}
        <text class="minute" x={(WIDTH + LEFT) / 2} y={HEIGHT - 4}>
          {picture.words.minutes}
        </text>
        <text class="zone" x={LEFT + 4} y={TOP - 7}>
          {picture.words.outside}
        </text>
        <text class="zone" x={x(outS) + 4} y={TOP - 7}>
          {picture.words.inside}
        </text>
        {picture.levels.map((level) => (
          <g class="level-mark">
            <path d={`M${LEFT} ${y(level.percent)} H${WIDTH - RIGHT}`} />
          </g>
        ))}
        {picture.lines.map((line, index) => (
          <path class={`tint-line line-${index}`} d={linePath(line, outS, x, y)} />
        ))}
      </svg>
      <figcaption>
        <p>{picture.says}</p>
        <ul class="key">
          {picture.lines.map((line, index) => (
            <li>
              <svg viewBox="0 0 36 12" width="36" height="12" aria-hidden="true">
                <path class={`tint-line line-${index}`} d="M1 6 H35" />
              </svg>
              {line.name}
            </li>
          ))}
          {picture.levels.map((level) => (
            <li>
              <svg viewBox="0 0 36 12" width="36" height="12" aria-hidden="true">
                <g class="level-mark">
                  <path d="M1 6 H35" />
                </g>
              </svg>
              {level.percent} %: {level.words}
            </li>
          ))}
        </ul>
        <details>
          <summary>{picture.words.asTable}</summary>
          <table>
            <thead>
              <tr>
                <th scope="col">{picture.words.condition}</th>
                {picture.table.heads.map((head) => (
                  <th scope="col">{head}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {picture.table.rows.map(([name, ...cells]) => (
                <tr>
                  <th scope="row">{name}</th>
                  {cells.map((cell) => (
                    <td>{cell}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      </figcaption>
    </figure>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;

function linePath(line: TintLine, outS: number, x: (s: number) => number, y: (p: number) => number): string {
  const points = [
    ...line.darkening.map((point) => [x(point.timeS), y(point.percent)] as const),
    ...line.clearing.map((point) => [x(outS + point.timeS), y(point.percent)] as const),
  ];
  return points.map(([px, py], index) => `${index === 0 ? 'M' : 'L'}${px} ${py}`).join(' ');
}

/** Whole minutes to write under the line: not more than eight of them. */
function minuteMarks(totalS: number): number[] {
  const minutes = Math.floor(totalS / 60);
  const step = [1, 2, 5, 10, 20, 30, 60].find((each) => minutes / each <= 8) ?? 120;
  return Array.from({ length: Math.floor(minutes / step) + 1 }, (_, index) => index * step);
}
