import type { Child, JSXNode } from 'hono/jsx';
import { PostForm } from '../pieces/form.tsx';
import type { Notice } from '../pieces/view.ts';
import type { ShellView, SideLink } from './view.ts';

/** What stands around every page of the shop: strip, side, clock, notices, then the page itself. */
export function Shell(props: {
  shell: ShellView;
  class?: string;
  ownHeading?: boolean;
  /** Stands above the notices. */
  first?: Child;
  children?: Child;
}) {
  const { shell } = props;
  return (
    <Sheet title={`${shell.title}, ${shell.shopName}`} danger={shell.dangerCount}>
      <body data-version={shell.version}>
        <a class="skip" href="#page">
          To the page
        </a>
        <header class="top">
          {shell.invented ? (
            <p class="invented">
              <span>Invented shop: nothing here is real</span>
            </p>
          ) : null}
          <div class="top-line">
            <p class="shop-name">{shell.shopName}</p>
            {shell.findable ? (
              <search>
                <form method="get" action="/find" class="find">
                  <label for="find-q" class="unseen">
                    Find a name, number or job
                  </label>
                  <input
                    id="find-q"
                    name="q"
                    type="search"
                    placeholder="Name, number or job"
                    autocomplete="off"
                  />
                  <button type="submit">Find</button>
                </form>
              </search>
            ) : null}
            <p class="clock">
              <span class="unseen">The shop’s clock: </span>
              <time datetime={shell.clockIso}>{shell.clock}</time>
              {shell.person ? (
                <span class="person">
                  <span class="unseen">You act as </span>
                  {shell.personHref ? <a href={shell.personHref}>{shell.person}</a> : shell.person}
                </span>
              ) : null}
            </p>
          </div>
        </header>
        <nav class="side" aria-label="Pages">
          <Links links={shell.side.filter((link) => link.group === 1)} here={shell.here} />
          <Links links={shell.side.filter((link) => link.group === 2)} here={shell.here} />
        </nav>
        <main id="page" class={props.class} tabindex={-1}>
          {shell.dangerCount > 0 && shell.here !== '/bench' ? (
            <p class="danger-line">
              <a href="/bench">
                {shell.dangerCount === 1 ? 'One wearer' : `${shell.dangerCount} wearers`} may be in danger. To
                the bench
              </a>
            </p>
          ) : null}
          {props.first}
          <Notices notices={shell.notices} csrf={shell.csrf} />
          {props.ownHeading ? null : <h1>{shell.title}</h1>}
          {props.children}
        </main>
        <KeyList />
        <script src="/island.js" defer></script>
      </body>
    </Sheet>
  );
}

/** A page that stands alone: before there is a shop, or when the page asked for is not there. */
export function BarePage(props: { title: string; reloadSeconds?: number; children?: Child }) {
  return (
    <Sheet title={props.title} danger={0}>
      <body class="bare" data-reload-seconds={props.reloadSeconds ? String(props.reloadSeconds) : undefined}>
        <main id="page">{props.children}</main>
        {props.reloadSeconds ? <script src="/island.js" defer></script> : null}
      </body>
    </Sheet>
  );
}

/** The whole document as text, ready to be sent. */
export function renderDocument(page: JSXNode | { toString(): string | Promise<string> }): string {
  return `<!doctype html>${String(page)}`;
}

function Sheet(props: { title: string; danger: number; children?: Child }) {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="robots" content="noindex" />
        <title>{props.danger > 0 ? `(!) ${props.title}` : props.title}</title>
        <link rel="icon" href="data:," />
        <link rel="stylesheet" href="/style.css" />
      </head>
      {props.children}
    </html>
  );
}

function Links(props: { links: readonly SideLink[]; here: string }) {
  return (
    <ul>
      {props.links.map((link) => (
        <li>
          <a href={link.href} aria-current={link.href === props.here ? 'page' : undefined}>
            {link.text}
            {link.waiting ? (
              <span class="waiting">
                {link.waiting}
                <span class="unseen"> waiting</span>
              </span>
            ) : null}
          </a>
        </li>
      ))}
    </ul>
  );
}

function Notices(props: { notices: readonly Notice[]; csrf: string }) {
  if (props.notices.length === 0) return null;
  return (
    <div class="notices" role="status">
      {props.notices.map((notice) => (
        <div class={`notice ${notice.kind}`}>
          <p>{notice.text}</p>
          {notice.undo ? (
            <PostForm action={notice.undo.action} csrf={props.csrf} class="one-button">
              <button type="submit" data-undo-seconds={String(notice.undo.secondsLeft)}>
                Take it back
              </button>
            </PostForm>
          ) : null}
        </div>
      ))}
    </div>
  );
}

/** Keys for those who work without a mouse; the script opens it on `?`. */
function KeyList() {
  return (
    <dialog id="keys" aria-labelledby="keys-heading">
      <h2 id="keys-heading">Keys</h2>
      <dl class="keys">
        <dt>
          <kbd>?</kbd>
        </dt>
        <dd>this list</dd>
        <dt>
          <kbd>/</kbd>
        </dt>
        <dd>find a name, number or job</dd>
        <dt>
          <kbd>j</kbd> <kbd>k</kbd>
        </dt>
        <dd>next row, row before</dd>
        <dt>
          <kbd>Enter</kbd>
        </dt>
        <dd>open the row</dd>
        <dt>
          <kbd>a</kbd>
        </dt>
        <dd>to the act</dd>
        <dt>
          <kbd>w</kbd>
        </dt>
        <dd>write to the wearer</dd>
        <dt>
          <kbd>u</kbd>
        </dt>
        <dd>to the way back, while there is one</dd>
        <dt>
          <kbd>g</kbd> then <kbd>b</kbd> <kbd>t</kbd> <kbd>r</kbd> <kbd>w</kbd> <kbd>d</kbd>
        </dt>
        <dd>go to bench, tray, ring list, wearers, deliveries</dd>
        <dt>
          <kbd>Esc</kbd>
        </dt>
        <dd>close this list, leave a field</dd>
      </dl>
      <form method="dialog">
        <button type="submit">Close</button>
      </form>
    </dialog>
  );
}
