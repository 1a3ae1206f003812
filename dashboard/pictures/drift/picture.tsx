import type { DriftPicture } from './view.ts';

const WIDTH = 720;
const HEIGHT = 180;
const LEFT = 56;
const RIGHT = 16;
const TOP = 14;
const BOTTOM = 30;

/** Evidence for a doubling of the rate, one step for each ripe pair, with the alarm line. */
export function DriftSvg(props: { picture: DriftPicture; id: string }) {
  const { picture, id } = props;
  const { points } = picture;
  const last = points.at(-1);
  const highest = Math.max(1.15, ...points.map((point) => point.evidence));
  const x = (index: number) =>
    round(LEFT + (index / Math.max(1, points.length - 1)) * (WIDTH - LEFT - RIGHT));
  const y = (evidence: number) => round(TOP + (1 - evidence / highest) * (HEIGHT - TOP - BOTTOM));
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-labelledby={`${id}-title`} aria-describedby={`${id}-desc`}>
        <title id={`${id}-title`}>Has it moved? Evidence for twice the usual rate</title>
        <desc id={`${id}-desc`}>{picture.sentence}</desc>
        <path class="alarm-line" d={`M${LEFT} ${y(1)} H${WIDTH - RIGHT}`} />
        <text class="left" x={LEFT - 6} y={y(1) + 5}>
          alarm
        </text>
        <path class="centre" d={`M${LEFT} ${y(0)} H${WIDTH - RIGHT}`} />
        <path
          class="steps"
          d={points
            .map((point, index) => `${index === 0 ? 'M' : 'L'}${x(index)} ${y(point.evidence)}`)
            .join(' ')}
        />
        {picture.alarms.map((alarm) => (
          <a href={alarm.href} aria-label={`Alarm on ${alarm.on}: the pairs behind`}>
            <path
              class="group-out"
              d={`M${x(alarm.point)} ${y(points[alarm.point]?.evidence ?? 1) - 7} l7 7 l-7 7 l-7 -7 Z`}
            />
          </a>
        ))}
        {last && last.evidence < 1 ? (
          <a href={picture.nowHref} aria-label={`Evidence on ${last.on}: the pairs behind`}>
            <circle class="group-in" cx={x(points.length - 1)} cy={y(last.evidence)} r="5" />
          </a>
        ) : null}
        <text class="zone" x={LEFT} y={HEIGHT - 6}>
          {points[0]?.on ?? ''}
        </text>
        <text class="left" x={WIDTH - RIGHT} y={HEIGHT - 6}>
          {points.at(-1)?.on ?? ''}
        </text>
      </svg>
      <figcaption>
        <p>{picture.sentence}</p>
        {picture.alarms.length > 0 ? (
          <ul>
            {picture.alarms.map((alarm) => (
              <li>
                {alarm.on}: {alarm.words}, <a href={alarm.href}>the pairs</a>
              </li>
            ))}
          </ul>
        ) : null}
        <p class="hint">
          {picture.caption} <a href={picture.baselineHref}>Pairs of the baseline</a>
        </p>
      </figcaption>
    </figure>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;
