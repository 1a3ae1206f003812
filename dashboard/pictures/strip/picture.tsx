import type { StripMark, StripStretch } from './view.ts';

const DAYS = 30;
const DAY_PX = 12;
const LEFT_PX = 8;
const LINE_Y = 15;
const WIDTH = LEFT_PX * 2 + DAYS * DAY_PX;

/** Days 0 to 30 of one pair as a line: its form says how it went, the shapes on it what happened. */
export function SettlingStrip(props: {
  marks: readonly StripMark[];
  stretches: readonly StripStretch[];
  today: number | null;
  name: string;
}) {
  const marks = props.marks.filter((mark) => mark.day >= 0 && mark.day <= DAYS);
  const spoken = [
    props.today === null ? 'not worn yet' : `today is day ${props.today}`,
    ...marks.filter((mark) => mark.kind !== 'planned').map((mark) => mark.words),
  ].join('; ');
  return (
    <svg class="strip" viewBox={`0 0 ${WIDTH} 34`} role="img" aria-label={`${props.name}: ${spoken}`}>
      <path class="days" d={[0, 7, 14, 21, 30].map((day) => `M${x(day)} 24 V28`).join(' ')} />
      {props.stretches.map((stretch) => (
        <path class={`stretch ${stretch.kind.replace(' ', '-')}`} d={stretchPath(stretch)} />
      ))}
      {props.today !== null && props.today <= DAYS ? (
        <path class="today" d={`M${x(props.today)} 3 V30`} />
      ) : null}
      {marks.map((mark) => (
        <Mark mark={mark} />
      ))}
    </svg>
  );
}

/** The days above a list of strips, at the same places as on each strip. */
export function StripScale() {
  return (
    <svg class="strip-scale" viewBox={`0 0 ${WIDTH} 16`} aria-hidden="true">
      {[0, 7, 14, 21, 30].map((day) => (
        <text x={x(day)} y="13">
          {day}
        </text>
      ))}
    </svg>
  );
}

/** What each shape on a strip stands for. */
export function StripKey() {
  const shapes: readonly { kind: StripMark['kind']; words: string }[] = [
    { kind: 'planned', words: 'planned' },
    { kind: 'sent', words: 'sent' },
    { kind: 'may not have arrived', words: 'may not have arrived' },
    { kind: 'answered', words: 'answered' },
    { kind: 'rang', words: 'spoke' },
    { kind: 'trouble', words: 'trouble' },
    { kind: 'danger', words: 'danger sign' },
    { kind: 'act', words: 'something done' },
    { kind: 'settled', words: 'settled' },
  ];
  const lines: readonly { kind: StripStretch['kind']; words: string }[] = [
    { kind: 'wearing', words: 'wearing' },
    { kind: 'trouble', words: 'in trouble' },
    { kind: 'settled', words: 'settled' },
    { kind: 'not worn', words: 'not worn' },
  ];
  return (
    <ul class="key">
      {shapes.map((shape) => (
        <li>
          <svg class="strip-key" viewBox="0 6 16 18" width="16" height="18" aria-hidden="true">
            <Mark mark={{ day: 0, kind: shape.kind, words: '' }} />
          </svg>
          {shape.words}
        </li>
      ))}
      {lines.map((line) => (
        <li>
          <svg class="strip-key" viewBox="4 6 32 18" width="32" height="18" aria-hidden="true">
            <path
              class={`stretch ${line.kind.replace(' ', '-')}`}
              d={stretchPath({ fromDay: 0, toDay: 2, kind: line.kind })}
            />
          </svg>
          {line.words}
        </li>
      ))}
    </ul>
  );
}

const x = (day: number): number => LEFT_PX + day * DAY_PX;

function Mark(props: { mark: StripMark }) {
  const { mark } = props;
  const cx = x(mark.day);
  const title = mark.words === '' ? null : <title>{mark.words}</title>;
  switch (mark.kind) {
    case 'planned':
      return (
        <path class="mark planned" d={`M${cx} ${LINE_Y - 4} V${LINE_Y + 4}`}>
          {title}
        </path>
      );
    case 'sent':
      return (
        <circle class="mark sent" cx={cx} cy={LINE_Y} r="4">
          {title}
        </circle>
      );
    case 'may not have arrived':
      return (
        <circle class="mark unsure" cx={cx} cy={LINE_Y} r="4">
          {title}
        </circle>
      );
    case 'answered':
      return (
        <circle class="mark answered" cx={cx} cy={LINE_Y} r="4.5">
          {title}
        </circle>
      );
    case 'rang':
      return (
        <rect class="mark rang" x={cx - 4} y={LINE_Y - 4} width="8" height="8">
          {title}
        </rect>
      );
    case 'settled':
      return (
        <rect class="mark settled" x={cx - 4.5} y={LINE_Y - 4.5} width="9" height="9">
          {title}
        </rect>
      );
    case 'act':
      return (
        <path class="mark act" d={`M${cx - 5} ${LINE_Y + 4} L${cx} ${LINE_Y - 5} L${cx + 5} ${LINE_Y + 4} Z`}>
          {title}
        </path>
      );
    case 'trouble':
      return (
        <path
          class="mark trouble"
          d={`M${cx} ${LINE_Y - 6.5} L${cx + 6.5} ${LINE_Y} L${cx} ${LINE_Y + 6.5} L${cx - 6.5} ${LINE_Y} Z`}
        >
          {title}
        </path>
      );
    case 'danger':
      return (
        <path
          class="mark danger"
          d={`M${cx - 6} ${LINE_Y - 6} h12 v12 h-12 Z M${cx - 6} ${LINE_Y - 6} l12 12 M${cx + 6} ${LINE_Y - 6} l-12 12`}
        >
          {title}
        </path>
      );
  }
}

/** A wave for trouble, two lines for settled; the dots of "not worn" are made by the stylesheet. */
function stretchPath(stretch: StripStretch): string {
  const from = x(Math.max(0, stretch.fromDay));
  const to = x(Math.min(DAYS, stretch.toDay));
  if (to <= from) return '';
  if (stretch.kind === 'settled') return `M${from} ${LINE_Y - 1.75} H${to} M${from} ${LINE_Y + 1.75} H${to}`;
  if (stretch.kind !== 'trouble') return `M${from} ${LINE_Y} H${to}`;
  let path = `M${from} ${LINE_Y}`;
  for (let at = from; at < to - 0.5; at += 6) path += ` q1.5 -4 3 0 q1.5 4 3 0`;
  return path;
}
