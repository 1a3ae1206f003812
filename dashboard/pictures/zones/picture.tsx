/** Where to look through which part of a multifocal: far on top, middle below, near at the bottom; sides are soft. */
export function ZonesSvg(props: { far: string; middle: string; near: string; sides: string; id: string }) {
  return (
    <svg class="zones" viewBox="0 0 440 250" role="img" aria-labelledby={`${props.id}-title`}>
      <title id={`${props.id}-title`}>
        {props.far}; {props.middle}; {props.near}; {props.sides}
      </title>
      <path
        class="rim"
        d="M20 40 Q20 12 60 12 H190 Q230 12 230 50 V120 Q230 206 150 206 H100 Q20 206 20 120 Z"
      />
      <path
        class="clear"
        d="M26 44 Q28 18 60 18 H190 Q224 18 224 50 V84 Q160 92 140 112 V150 Q158 160 162 200 H102 Q104 160 118 150 V112 Q92 92 26 84 Z"
      />
      <path
        class="soft-side"
        d="M40 108 l44 44 M40 130 l38 38 M56 108 l42 42 M210 108 l-44 44 M210 130 l-38 38 M194 108 l-42 42"
      />
      <g class="says">
        <path d="M190 52 H244" />
        <text x="250" y="57">
          {props.far}
        </text>
        <path d="M130 128 H244" />
        <text x="250" y="133">
          {props.middle}
        </text>
        <path d="M132 186 H244" />
        <text x="250" y="191">
          {props.near}
        </text>
        <text x="20" y="238">
          {props.sides}
        </text>
      </g>
    </svg>
  );
}
