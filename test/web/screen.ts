import { sql } from 'kysely';
import { type MovableClock, standingClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import type { Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { createApp } from '../../src/web/app.tsx';
import { type SignedIn, signedIn } from './signedIn.ts';

const HOUR = 3_600_000;
export const SHOP = 's';
/** A Monday, 10:00 in New York. */
export const MONDAY = new Date('2026-03-02T15:00:00Z');

/** Somebody at the shop's screen: asks for pages, fills forms in, keeps cookies. No port, no browser. */
export type Screen = {
  readonly shell: Shell;
  readonly clock: MovableClock;
  get(path: string): Promise<Answer>;
  /** Posts a form with its token; `then` is the page to which the answer sends on, with its notice. */
  post(path: string, fields: Fields): Promise<Answer & { readonly then: Answer | undefined }>;
  /** From here on somebody else sits at the screen; at first it is the owner. */
  actAs(personId: string): void;
};

export type Fields = Readonly<Record<string, string | File | readonly string[]>>;
export type Answer = { readonly status: number; readonly html: string; readonly path: string };

export async function openScreen(database: Database, start: Date = MONDAY): Promise<Screen> {
  const clock = standingClock(start);
  await sql`truncate shop cascade`.execute(database.db);
  const db = database.inShop(SHOP);
  await openShop(
    db,
    {
      shopId: SHOP,
      name: 'Test shop',
      kind: 'own',
      country: 'US',
      timeZone: 'America/New_York',
      settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
      owner: { name: 'Ana Example' },
    },
    start,
  );
  const shell: Shell = { db, clock, journal: noJournal, log: silentLog, carrier: () => undefined };
  const room: Room = {
    shell,
    shopId: SHOP,
    kind: 'own',
    async work() {},
    async moveClock() {},
    async close() {},
  };
  const failed: string[] = [];
  const app = createApp(
    { room: () => room, hosts: new Set(['shop.test']), key: 'k', filling: null, choose: async () => [] },
    { ...silentLog, error: (detail) => failed.push(String(detail.error)) },
  );
  const cookies = new Map<string, string>();
  let person: string | undefined;
  let signed: { who: SignedIn; until: number } | undefined;
  const signIn = async (): Promise<SignedIn> => {
    const now = clock.now().getTime();
    if (signed === undefined || now < signed.until - HOUR || now > signed.until)
      signed = { who: await signedIn(db, SHOP, clock, person), until: now + HOUR };
    return signed.who;
  };
  const ask = async (path: string, init: RequestInit = {}): Promise<Response> => {
    const held = [...cookies].map(([name, value]) => `${name}=${value}`);
    const cookie = [(await signIn()).cookie, ...held].join('; ');
    const response = await app.request(`http://shop.test${path}`, {
      ...init,
      headers: { host: 'shop.test', cookie },
    });
    for (const line of response.headers.getSetCookie()) {
      const [name, value] = line.split(';')[0]!.split('=');
      if (value === '') cookies.delete(name!);
      else cookies.set(name!, value!);
    }
    if (response.status === 500) throw new Error(`${path}: ${failed.join('\n')}`);
    return response;
  };
  const get = async (path: string): Promise<Answer> => {
    const response = await ask(path);
    return { status: response.status, html: await response.text(), path };
  };
  return {
    shell,
    clock,
    get,
    actAs(personId) {
      person = personId;
      signed = undefined;
    },
    async post(path, fields) {
      const form = new FormData();
      form.set('csrf', (await signIn()).csrf);
      for (const [name, value] of Object.entries(fields)) {
        if (typeof value === 'string') form.set(name, value);
        else if (value instanceof File) form.set(name, value);
        else for (const one of value) form.append(name, one);
      }
      const response = await ask(path, { method: 'POST', body: form });
      const to = response.headers.get('location');
      const then = response.status === 303 && to ? await get(to) : undefined;
      return { status: response.status, html: await response.text(), path: to ?? path, then };
    },
  };
}

/** What a reader sees: tags gone, signs of HTML turned back, spaces as one. */
export const seen = (html: string): string =>
  html
    .replace(/<(script|style)[\s\S]*?<\/\1>/g, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ');

/** The value that an input of a form holds. */
export const valueIn = (html: string, name: string): string | undefined => {
  const tag = new RegExp(`<input[^>]*name="${name}"[^>]*>`).exec(html)?.[0];
  return tag === undefined ? undefined : /value="([^"]*)"/.exec(tag)?.[1];
};
