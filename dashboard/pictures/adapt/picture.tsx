import type { AdaptPicture } from './view.ts';

const WIDTH = 220;
const HEIGHT = 130;
const LEFT = 34;
const RIGHT = 8;
const TOP = 8;
const BOTTOM = 22;

/** One small picture for each group, all on the same scale: settled rises, back falls from the top. */
export function AdaptSvgs(props: { pictures: readonly AdaptPicture[]; under: string }) {
  return (
    <figure class="small-pictures">
      <ul>
        {props.pictures.map((picture) => (
          <li>
            <p class="name">
              <a href={picture.href}>{picture.group}</a>
            </p>
            <One picture={picture} />
            <p class="hint">{picture.medianWords}</p>
          </li>
        ))}
      </ul>
      <figcaption>
        <p class="hint">
          Solid line: settled; hatched above: back (remade, exchanged, refunded); upright strokes: 95 %
          interval. {props.under}
        </p>
        <details>
          <summary>The same as a table</summary>
          <table>
            <thead>
              <tr>
                <th scope="col">Group</th>
                <th scope="col">Day</th>
                <th scope="col">Settled</th>
                <th scope="col">Back</th>
                <th scope="col">Still watched</th>
              </tr>
            </thead>
            <tbody>
              {props.pictures.flatMap((picture) =>
                picture.steps.map((step) => (
                  <tr>
                    <th scope="row">{picture.group}</th>
                    <td>{step.day}</td>
                    <td>
                      {whole(step.settled)} % ({whole(step.settledLow)} to {whole(step.settledHigh)})
                    </td>
                    <td>{whole(step.back)} %</td>
                    <td>{step.atRisk}</td>
                  </tr>
                )),
              )}
            </tbody>
          </table>
        </details>
      </figcaption>
    </figure>
  );
}

function One(props: { picture: AdaptPicture }) {
  const { picture } = props;
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={picture.sentence}>
      {[0, 0.5, 1].map((share) => (
        <g class="grid">
          <path d={`M${LEFT} ${y(share)} H${WIDTH - RIGHT}`} />
          <text class="left" x={LEFT - 4} y={y(share) + 4}>
            {whole(share)}
          </text>
        </g>
      ))}
      <path class="back-area" d={area(picture)} />
      <path class="steps" d={stairs(picture.steps.map((step) => [step.day, step.settled]))} />
      {picture.steps.map((step) => (
        <path class="interval" d={`M${x(step.day)} ${y(step.settledLow)} V${y(step.settledHigh)}`} />
      ))}
      {[7, 14, 30].map((day) => (
        <text class="minute" x={x(day)} y={HEIGHT - 6}>
          {day}
        </text>
      ))}
    </svg>
  );
}

const whole = (share: number): number => Math.round(share * 100);
const x = (day: number): number => Math.round((LEFT + (day / 30) * (WIDTH - LEFT - RIGHT)) * 10) / 10;
const y = (share: number): number => Math.round((TOP + (1 - share) * (HEIGHT - TOP - BOTTOM)) * 10) / 10;

/** Nothing is seen between the looks, so the line goes up in stairs. */
function stairs(points: readonly (readonly [day: number, share: number])[]): string {
  return `M${x(0)} ${y(0)} ${points.map(([day, share]) => `H${x(day)} V${y(share)}`).join(' ')}`;
}

/** The share back hangs down from the top. */
function area(picture: AdaptPicture): string {
  const last = picture.steps.at(-1)?.day ?? 0;
  return `M${x(0)} ${y(1)} ${picture.steps.map((step) => `H${x(step.day)} V${y(1 - step.back)}`).join(' ')} H${x(last)} V${y(1)} Z`;
}
