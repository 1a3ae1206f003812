import type { Child } from 'hono/jsx';
import type { Trace } from './view.ts';

/** A number that opens to show what went into it, by which rule, from which source. */
export function Traced(props: { trace: Trace | null; children?: Child }) {
  if (props.trace === null) return <span class="number">{props.children}</span>;
  return (
    <details class="traced">
      <summary>{props.children}</summary>
      <div class="trace">
        <ul>
          {props.trace.inputs.map((input) => (
            <li>
              {input.name}: <b>{input.value}</b> <span class="from">{input.from}</span>
            </li>
          ))}
        </ul>
        <p>{props.trace.formula}</p>
        <p class="from">{props.trace.source}</p>
      </div>
    </details>
  );
}
