import type { Child } from 'hono/jsx';

/** A table that may be wider than the page: it scrolls by itself, by keyboard too. With `blocks` each row is a block of lines on a phone. */
export function WideTable(props: { label: string; blocks?: boolean; children?: Child }) {
  return (
    <section class={props.blocks ? 'wide-table blocks' : 'wide-table'} tabindex={0} aria-label={props.label}>
      {props.children}
    </section>
  );
}
