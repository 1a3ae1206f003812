import type { RatesPicture } from './view.ts';

const WIDTH = 320;
const HEIGHT = 26;
const EDGE = 6;

/** One small picture for each group, all on the same scale, and its sentence; outside what luck would do it is a diamond. */
export function RateStrips(props: { picture: RatesPicture }) {
  const { picture } = props;
  const highest = Math.min(
    1,
    Math.max(0.05, picture.shop * 2, ...picture.rows.map((row) => row.high)) * 1.02,
  );
  const x = (rate: number) => Math.round((EDGE + (rate / highest) * (WIDTH - 2 * EDGE)) * 10) / 10;
  return (
    <figure class="rate-strips">
      <ul>
        {picture.rows.map((row) => (
          <li>
            <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={row.sentence}>
              <path class="centre" d={`M${x(picture.shop)} 0 V${HEIGHT}`} />
              <path class="interval" d={`M${x(row.low)} 13 H${x(row.high)}`} />
              <path class="drawn" d={`M${x(row.drawn)} 5 V21`} />
              {stands(row.verdict) ? (
                <path class="group-out" d={`M${x(row.rate)} 6 l7 7 l-7 7 l-7 -7 Z`} />
              ) : (
                <circle class="group-in" cx={x(row.rate)} cy="13" r="5" />
              )}
            </svg>
            <p>
              {row.sentence}
              {row.chanceWorse ? ` Chance worse than the rest: ${row.chanceWorse}.` : ''}{' '}
              <a href={row.href}>
                the pairs<span class="unseen"> behind {row.group}</span>
              </a>
            </p>
          </li>
        ))}
      </ul>
      <figcaption class="hint">
        From 0 to {Math.round(highest * 1000) / 10} %. Upright line: the shop. Bar: 95 % interval. Stroke: the
        rate drawn to the shop. Disc: inside what luck would do; diamond: outside.
      </figcaption>
    </figure>
  );
}

const stands = (verdict: string): boolean => verdict !== 'like the rest' && verdict !== 'too few to say';
