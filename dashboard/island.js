// @ts-check
/*
 * What the pages gain from script: keys, fresh data without reloading, a count-down on "take it back".
 * Every page works without it.
 */
(() => {
  const ASK_EVERY_MS = 5000;
  const GO_TO = { b: '/bench', t: '/tray', r: '/ring-list', w: '/wearers', d: '/deliveries' };

  const body = document.body;
  const isTyping = () => {
    const at = document.activeElement;
    return (
      at instanceof HTMLElement && at.matches('input:not([type=checkbox],[type=radio]), textarea, select')
    );
  };

  // On a phone the side is a strip that scrolls: the page that one is on is in view.
  document.querySelector('nav.side [aria-current]')?.scrollIntoView({ inline: 'center', block: 'nearest' });

  /* Keys */
  let waitsForPage = false;
  let here = -1;
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') {
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
      return;
    }
    if (event.ctrlKey || event.metaKey || event.altKey || isTyping()) return;
    if (waitsForPage) {
      waitsForPage = false;
      const page = GO_TO[/** @type {keyof typeof GO_TO} */ (event.key)];
      const link = page && document.querySelector(`nav.side a[href="${page}"]`);
      if (link instanceof HTMLElement) link.click();
      return;
    }
    const act = KEYS[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });

  /** @type {Record<string, () => void>} */
  const KEYS = {
    '?': () => {
      const list = document.getElementById('keys');
      if (list instanceof HTMLDialogElement && !list.open) list.showModal();
    },
    '/': () => focusOn('#find-q, main input[type=search]'),
    g: () => {
      waitsForPage = true;
    },
    j: () => moveTo(here + 1),
    k: () => moveTo(here - 1),
    a: () => focusOn('[data-row].here .act, .danger .act, [data-act=first], main .act'),
    w: () => focusOn('#write-text'),
    u: () => {
      const newest = [...document.querySelectorAll('[data-undo]')].at(-1);
      if (newest instanceof HTMLElement) newest.focus();
    },
  };

  /** @param {string} selector */
  function focusOn(selector) {
    for (const part of selector.split(', ')) {
      const found = document.querySelector(part);
      if (found instanceof HTMLElement) {
        found.focus();
        return;
      }
    }
  }

  /** @param {number} index */
  function moveTo(index) {
    const rows = document.querySelectorAll('[data-row]');
    if (rows.length === 0) return;
    rows[here]?.classList.remove('here');
    here = Math.max(0, Math.min(rows.length - 1, index));
    const row = rows[here];
    row?.classList.add('here');
    row?.scrollIntoView({ block: 'nearest' });
    const open = row?.querySelector('[data-open], a, summary');
    if (open instanceof HTMLElement) open.focus({ preventScroll: true });
  }

  /* Count-down */
  function countDown() {
    for (const button of document.querySelectorAll('button[data-undo-seconds]')) {
      if (!(button instanceof HTMLButtonElement)) continue;
      let left = Number(button.dataset.undoSeconds);
      delete button.dataset.undoSeconds;
      button.dataset.undo = '';
      // What waits for a civil hour can be taken back for long: nothing to count down.
      if (left > 60) continue;
      const words = button.textContent ?? '';
      const tick = () => {
        if (left <= 0) {
          button.disabled = true;
          button.textContent = 'It has left';
          setTimeout(() => void showFresh(body.dataset.version ?? ''), 2000);
          return;
        }
        button.textContent = `${words} (${left} s)`;
        left -= 1;
        setTimeout(tick, 1000);
      };
      tick();
    }
  }

  /* Fresh data */
  const main = () => document.querySelector('main');
  const isBusy = () =>
    isTyping() ||
    [...document.querySelectorAll('main textarea')].some(
      (field) => field instanceof HTMLTextAreaElement && field.value !== field.defaultValue,
    ) ||
    document.querySelector('dialog[open]') !== null;

  async function askVersion() {
    if (document.visibilityState === 'hidden') return;
    try {
      const ofCase = /^\/cases\/[^/]+$/.test(location.pathname) ? location.pathname : '';
      const answer = await fetch(`${ofCase}/version`, { headers: { accept: 'text/plain' } });
      if (!answer.ok) return;
      const version = (await answer.text()).trim();
      if (version === body.dataset.version) return;
      if (isBusy()) {
        offerFresh();
        return;
      }
      await showFresh(version);
    } catch {
      // The server is away for a moment; the next question will find it.
    }
  }

  /** @param {string} version */
  async function showFresh(version) {
    if (isBusy()) return;
    const answer = await fetch(location.href, { headers: { accept: 'text/html' } });
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
    if (isBusy()) return;
    const opened = new Set(
      [...document.querySelectorAll('main details[open] > summary')].map((summary) => summary.textContent),
    );
    for (const place of ['main', 'nav.side', '.clock']) {
      const old = document.querySelector(place);
      const next = fresh.querySelector(place);
      if (old && next) old.replaceWith(next);
    }
    for (const summary of document.querySelectorAll('main details > summary')) {
      if (opened.has(summary.textContent)) summary.parentElement?.setAttribute('open', '');
    }
    document.title = fresh.title;
    body.dataset.version = version;
    here = -1;
    ready();
  }

  /* A form that is looked at while it is typed: the answer's part for it is put in place of the one on the page. */
  let looks = 0;
  document.addEventListener('change', async (event) => {
    const field = event.target;
    const form = field instanceof HTMLInputElement ? field.form : null;
    const place = form?.id ? document.querySelector(`[data-looked="${form.id}"]`) : null;
    if (!form || !place) return;
    looks += 1;
    const look = looks;
    const asked = new FormData(form);
    asked.set('step', 'look');
    try {
      const answer = await fetch(form.action, { method: 'POST', body: asked });
      const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
      const next = fresh.querySelector(`[data-looked="${form.id}"]`);
      if (next && look === looks) place.replaceWith(next);
    } catch {
      // The button does the same once the server is there again.
    }
  });

  function offerFresh() {
    if (document.querySelector('.fresh')) return;
    const line = document.createElement('p');
    line.className = 'fresh';
    line.setAttribute('role', 'status');
    const link = document.createElement('a');
    link.href = location.href;
    link.textContent = 'Something has changed: show it';
    line.append(link);
    main()?.prepend(line);
  }

  function ready() {
    countDown();
    for (const list of document.querySelectorAll('.talk-list, .pretend-messages')) {
      list.scrollTop = list.scrollHeight;
    }
  }

  ready();
  if (body.dataset.version !== undefined) setInterval(askVersion, ASK_EVERY_MS);
  const reloadSeconds = Number(body.dataset.reloadSeconds);
  if (reloadSeconds > 0) setTimeout(() => location.reload(), reloadSeconds * 1000);
})();
