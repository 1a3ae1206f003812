import type { Child } from 'hono/jsx';

/** A table that may be wider than the page: it scrolls by itself, by keyboard too. */
export function WideTable(props: { label: string; children?: Child }) {
  return (
    <section class="wide-table" tabindex={0} aria-label={props.label}>
      {props.children}
    </section>
  );
}
