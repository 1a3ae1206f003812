import type { MonthsPicture } from './view.ts';

const WIDTH = 720;
const HEIGHT = 220;
const LEFT = 56;
const RIGHT = 16;
const TOP = 14;
const BOTTOM = 34;

/** One point a month and its limits; a month outside them is a diamond, every point opens its pairs. */
export function MonthsSvg(props: { picture: MonthsPicture; id: string }) {
  const { picture, id } = props;
  const { points } = picture;
  const highest = Math.min(1, Math.max(0.05, ...points.map(({ rate, high }) => Math.max(rate, high))) * 1.05);
  const x = (index: number) =>
    round(LEFT + ((index + 0.5) / Math.max(1, points.length)) * (WIDTH - LEFT - RIGHT));
  const y = (rate: number) => round(TOP + (1 - rate / highest) * (HEIGHT - TOP - BOTTOM));
  const step = Math.ceil(points.length / 5);
  const grid = [0.01, 0.02, 0.05, 0.1, 0.2, 0.25].find((each) => highest / each <= 5) ?? 0.5;
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-labelledby={`${id}-title`} aria-describedby={`${id}-desc`}>
        <title id={`${id}-title`}>Share of pairs back by month of hand-over</title>
        <desc id={`${id}-desc`}>{picture.inWords}</desc>
        {Array.from({ length: Math.floor(highest / grid) + 1 }, (_, at) => at * grid).map((rate) => (
          <g class="grid">
            <path d={`M${LEFT} ${y(rate)} H${WIDTH - RIGHT}`} />
            <text class="left" x={LEFT - 6} y={y(rate) + 5}>
              {Math.round(rate * 100)} %
            </text>
          </g>
        ))}
        <path class="centre" d={`M${LEFT} ${y(picture.centre)} H${WIDTH - RIGHT}`} />
        {points.map((point, index) => (
          <a href={point.href} aria-label={`${point.month}: the pairs behind`}>
            <title>{`${point.month}: ${Math.round(point.rate * 1000) / 10} % of ${point.n}`}</title>
            <path class="interval" d={`M${x(index)} ${y(point.low)} V${y(Math.min(highest, point.high))}`} />
            {point.rate > point.high || point.rate < point.low ? (
              <path class="group-out" d={`M${x(index)} ${y(point.rate) - 7} l7 7 l-7 7 l-7 -7 Z`} />
            ) : (
              <circle class="group-in" cx={x(index)} cy={y(point.rate)} r="5" />
            )}
          </a>
        ))}
        {points.map((point, index) =>
          index % step === 0 ? (
            <text class="minute" x={x(index)} y={HEIGHT - 10}>
              {point.month}
            </text>
          ) : null,
        )}
      </svg>
      <figcaption>
        <p>{picture.inWords}</p>
        <p class="hint">Strokes: the limits of the month. {picture.caption}</p>
      </figcaption>
    </figure>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;
