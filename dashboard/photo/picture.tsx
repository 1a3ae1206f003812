import type { PhotoMarksView } from './view.ts';

/** The photograph with its marks, in its own dots: lines for edges, rings for pupils, broken lines for the ears. */
export function MarkedPicture(props: { view: PhotoMarksView }) {
  const { view } = props;
  const at = (name: string): number => Number(view.values[name] ?? Number.NaN);
  const level = Number(view.values.level_deg || 0) + view.quarter;
  return (
    <figure class="photo-picture">
      <svg
        id="photo"
        viewBox={`0 0 ${view.width} ${view.height}`}
        width={view.width}
        height={view.height}
        data-quarter={String(view.quarter)}
        data-file={`${view.fileWidth} ${view.fileHeight}`}
        role="img"
        aria-labelledby="photo-title"
      >
        <title id="photo-title">Photograph of the wearer in the frame, with the marks</title>
        <image
          href={view.src}
          width={view.fileWidth}
          height={view.fileHeight}
          transform={`translate(${view.width / 2} ${view.height / 2}) rotate(${level}) translate(${-view.fileWidth / 2} ${-view.fileHeight / 2})`}
        />
        {(['r', 'l'] as const).map((eye) => (
          <Lens eye={eye} at={at} />
        ))}
        {(['r', 'l'] as const).map((eye) => (
          <Line
            name={`${eye}_ear_x`}
            way="x"
            at={at(`${eye}_ear_x`)}
            from={0.3 * view.height}
            to={0.7 * view.height}
          />
        ))}
      </svg>
      <figcaption>
        <button type="button" data-view="r">
          Right lens, closer
        </button>{' '}
        <button type="button" data-view="l">
          Left lens, closer
        </button>{' '}
        <button type="button" data-view="">
          Whole
        </button>
      </figcaption>
    </figure>
  );
}

function Lens(props: { eye: 'r' | 'l'; at: (name: string) => number }) {
  const { eye, at } = props;
  const of = (mark: string) => at(`${eye}_${mark}`);
  const [left, right] = [of('outer_x'), of('inner_x')].sort((a, b) => a - b) as [number, number];
  const [top, bottom] = [of('top_y'), of('bottom_y')];
  const over = (right - left) / 8;
  return (
    <g data-lens={eye}>
      {(['outer_x', 'inner_x'] as const).map((mark) => (
        <Line name={`${eye}_${mark}`} way="x" at={of(mark)} from={top - over} to={bottom + over} />
      ))}
      {(['top_y', 'bottom_y'] as const).map((mark) => (
        <Line name={`${eye}_${mark}`} way="y" at={of(mark)} from={left - over} to={right + over} />
      ))}
      <g class="mark pupil" data-ring={eye} transform={`translate(${of('pupil_x')} ${of('pupil_y')})`}>
        <circle class="grip" r={over} />
        <circle r={over / 2} />
        <path d={`M${-over} 0H${over}M0 ${-over}V${over}`} />
      </g>
    </g>
  );
}

function Line(props: { name: string; way: 'x' | 'y'; at: number; from: number; to: number }) {
  const { name, way, at, from, to } = props;
  const set = Number.isFinite(at);
  const ends = way === 'x' ? { x1: at, x2: at, y1: from, y2: to } : { x1: from, x2: to, y1: at, y2: at };
  const drawn = set ? ends : { x1: 0, x2: 0, y1: from, y2: to };
  return (
    <g
      class={`mark ${name.includes('ear') ? 'ear' : ''}`}
      data-line={name}
      data-way={way}
      visibility={set ? undefined : 'hidden'}
    >
      <line class="grip" {...drawn} />
      <line {...drawn} />
    </g>
  );
}
