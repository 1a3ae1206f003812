import type { Child } from 'hono/jsx';
import { BarePage } from '../shell/page.tsx';

/** A sheet made to be printed: what it is, for whom, the date; the way back is not printed. */
export function Paper(props: {
  title: string;
  shopName: string;
  on: string;
  invented: boolean;
  backHref: string;
  /** A card to be cut out, and not a whole sheet. */
  card?: boolean;
  children?: Child;
}) {
  return (
    <BarePage title={props.title}>
      <p class="no-print">
        <a href={props.backHref}>Back</a>. Print it with the browser.
      </p>
      <div class={props.card ? 'paper card' : 'paper'}>
        <p class="paper-head">
          <span>{props.shopName}</span>
          <span>{props.on}</span>
        </p>
        {props.invented ? <p class="paper-invented">Invented shop: nothing on this sheet is real.</p> : null}
        <h1>{props.title}</h1>
        {props.children}
      </div>
    </BarePage>
  );
}

/** A line to write on by hand. */
export function Blank(props: { label: string; wide?: boolean }) {
  return (
    <p class={props.wide ? 'blank wide' : 'blank'}>
      <span>{props.label}</span>
    </p>
  );
}

/** A box to tick by hand. */
export function Box(props: { words: string }) {
  return (
    <li class="hand-box">
      <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        <path d="M1.5 1.5 h13 v13 h-13 Z" />
      </svg>{' '}
      {props.words}
    </li>
  );
}
