import type { FunnelPicture } from './view.ts';

const WIDTH = 720;
const HEIGHT = 320;
const LEFT = 56;
const RIGHT = 140;
const TOP = 14;
const BOTTOM = 44;

/** Rates over numbers of pairs with the bands of luck; a group outside is a diamond with its name, one inside a disc. */
export function FunnelSvg(props: { picture: FunnelPicture; id: string }) {
  const { picture, id } = props;
  const most = Math.max(
    20,
    ...picture.points.map((point) => point.n),
    ...picture.lines.map((line) => line.n),
  );
  const highest = Math.min(
    1,
    Math.max(0.1, picture.centre * 2.5, ...picture.points.map((point) => point.rate * 1.15)),
  );
  const x = (n: number) => round(LEFT + (n / most) * (WIDTH - LEFT - RIGHT));
  const y = (rate: number) => round(TOP + (1 - Math.min(rate, highest) / highest) * (HEIGHT - TOP - BOTTOM));
  const line = (pick: (of: FunnelPicture['lines'][number]) => number) =>
    picture.lines.map((of, index) => `${index === 0 ? 'M' : 'L'}${x(of.n)} ${y(pick(of))}`).join(' ');
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-labelledby={`${id}-title`} aria-describedby={`${id}-desc`}>
        <title id={`${id}-title`}>More than luck? Share of pairs back, over number of ripe pairs</title>
        <desc id={`${id}-desc`}>{picture.inWords}</desc>
        {ticks(highest).map((rate) => (
          <g class="grid">
            <path d={`M${LEFT} ${y(rate)} H${WIDTH - RIGHT}`} />
            <text class="left" x={LEFT - 6} y={y(rate) + 5}>
              {Math.round(rate * 100)} %
            </text>
          </g>
        ))}
        {[0.25, 0.5, 0.75, 1].map((part) => (
          <text class="minute" x={x(most * part)} y={HEIGHT - BOTTOM + 18}>
            {Math.round(most * part)}
          </text>
        ))}
        <text class="minute" x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 4}>
          ripe pairs (out long enough to count)
        </text>
        <path class="centre" d={`M${LEFT} ${y(picture.centre)} H${WIDTH - RIGHT}`} />
        <path class="band-998" d={`${line((of) => of.high998)} ${line((of) => of.low998)}`} />
        <path class="band-95" d={`${line((of) => of.high95)} ${line((of) => of.low95)}`} />
        {picture.points.map((point) => (
          <a href={point.href} aria-label={`${point.group}: the pairs behind`}>
            <title>{point.sentence}</title>
            {stands(point.verdict) ? (
              <path class="group-out" d={`M${x(point.n)} ${y(point.rate) - 7} l7 7 l-7 7 l-7 -7 Z`} />
            ) : (
              <circle class="group-in" cx={x(point.n)} cy={y(point.rate)} r="5" />
            )}
            {stands(point.verdict) ? (
              <text class="name" x={x(point.n) + 11} y={y(point.rate) + 5}>
                {point.group}
              </text>
            ) : null}
          </a>
        ))}
      </svg>
      <figcaption>{picture.caption}</figcaption>
    </figure>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;

const stands = (verdict: string): boolean => verdict !== 'like the rest' && verdict !== 'too few to say';

function ticks(highest: number): number[] {
  const step = [0.02, 0.05, 0.1, 0.2, 0.25].find((each) => highest / each <= 6) ?? 0.5;
  return Array.from({ length: Math.floor(highest / step + 0.001) + 1 }, (_, index) => index * step);
}
