import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
});
afterAll(() => database.close());

const HEAD =
  'job number,name,phone,email,consent,handed over on,lens design,first multifocal,zone,state,way,posted on';

async function take(...lines: string[]): Promise<void> {
  const done = await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: [HEAD, ...lines].join('\n'),
    date_order: 'ymd',
  });
  expect(seen(done.html)).toContain(`${lines.length} new job`);
}

const says = (from: string, body: string) =>
  takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: `far-${from}-${body}`,
    from,
    to: null,
    body,
    receivedAt: screen.shell.clock.now().toISOString(),
    raw: {},
  });

async function wearerPath(name: string): Promise<string> {
  const row = await screen.shell.db
    .selectFrom('wearer')
    .select('wearer_id')
    .where('name', '=', name)
    .executeTakeFirstOrThrow();
  return `/wearers/${row.wearer_id}`;
}

const dueAt = async (slot: string) =>
  (
    await screen.shell.db
      .selectFrom('check_in')
      .select('due_at')
      .where('slot', '=', slot)
      .executeTakeFirstOrThrow()
  ).due_at.toISOString();

const IDA = '1,Ida Quill,202 555 0117,ida@example.org,both,2026-02-27,soft 15,yes,America/New_York,,,';

describe('the list of wearers', () => {
  test('shows those in their first thirty days, oldest day of wear first, and everyone by name', async () => {
    await take(
      IDA,
      '2,Otto Lind,202 555 0118,,text,2026-02-20,short 11,no,America/Chicago,,,',
      '3,Ada Berg,202 555 0119,,text,2025-12-01,soft 15,yes,America/Chicago,,,',
      '4,Cleo Barr,202 555 0120,,text,,soft 15,yes,America/Chicago,,,',
    );
    const settling = seen((await screen.get('/wearers')).html);
    expect(settling).not.toContain('Ada Berg');
    expect(settling).not.toContain('Cleo Barr');
    expect(settling.indexOf('Otto Lind')).toBeLessThan(settling.indexOf('Ida Quill'));
    expect(settling).toContain('Ida Quill day 3');
    expect(settling).toContain('1–2 of 2');
    const all = seen((await screen.get('/wearers?show=all')).html);
    const places = ['Ada Berg', 'Cleo Barr', 'Ida Quill', 'Otto Lind'].map((name) => all.indexOf(name));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(all).toContain('Cleo Barr not worn yet');
    expect(all).toContain('no pair handed over yet');
  });

  test('draws on each strip what was planned, what was answered and the trouble told', async () => {
    await take(IDA);
    await says('+12025550117', 'I have to lift my chin right up to read');
    const { html } = await screen.get('/wearers');
    expect(html).toContain('class="mark trouble"');
    expect(html).toContain('class="mark planned"');
    expect(html).toContain('class="stretch wearing"');
    expect(html).toContain('day 3: “I have to lift my chin right up to read”');
    expect(seen(html)).toContain('answered day 3: reading part too');
    expect(html).toMatch(/<a href="\/cases\/[\w-]+">answered day 3/);
  });

  test('marks a settled answer by another shape and the days after it by another line', async () => {
    await take('2,Otto Lind,202 555 0118,,text,2026-02-20,short 11,no,America/Chicago,,,');
    screen.clock.moveTo(new Date('2026-02-27T18:00:00Z'));
    await says('+12025550118', 'all good, used to them now, very happy');
    screen.clock.moveTo(new Date('2026-03-04T18:00:00Z'));
    const { html } = await screen.get('/wearers');
    expect(html).toContain('class="mark settled"');
    expect(html).toContain('class="stretch settled"');
  });

  test('shows a posted pair as not worn until it is known to have come', async () => {
    await take('5,Noemí Lima,202 555 0121,,text,,soft 15,yes,America/Chicago,,post,2026-02-27');
    const page = seen((await screen.get('/wearers')).html);
    expect(page).toContain('Noemí Lima not worn yet');
    expect(page).toContain('posted Fri 27 Feb, not known to have come');
  });

  test('goes on to the next page and back, without losing or doubling a wearer', async () => {
    const day = (n: number) => `2026-02-${String(10 + (n % 17)).padStart(2, '0')}`;
    await take(
      ...Array.from(
        { length: 120 },
        (_, n) => `${n},Wearer ${n},,,,${day(n)},soft 15,yes,America/Chicago,,,`,
      ),
    );
    for (const start of ['/wearers', '/wearers?show=all']) {
      const names: string[] = [];
      let last = '';
      let path: string | undefined = start;
      while (path) {
        last = (await screen.get(path)).html;
        names.push(...[...last.matchAll(/data-open[^>]*>(Wearer \d+)</g)].map((one) => one[1]!));
        path = /<a href="(\/wearers\?[^"]+)">more/.exec(last)?.[1]?.replaceAll('&amp;', '&');
      }
      expect(names, start).toHaveLength(120);
      expect(new Set(names).size, start).toBe(120);
      const before = /<a href="(\/wearers\?[^"]+)">before/.exec(last)?.[1]?.replaceAll('&amp;', '&');
      const back = (await screen.get(before!)).html;
      expect(back).toContain('51–100 of 120');
      expect(back).toContain(`>${names[50]}<`);
    }
  });

  test('is not put out by a place in the list that is nonsense', async () => {
    await take(IDA);
    for (const page of ['x', '1.a.eA.y', '51.a.MjAyNi0xMy00NQ.z', '-1', '1.b..x']) {
      expect((await screen.get(`/wearers?page=${page}`)).status, page).toBe(200);
      expect((await screen.get(`/wearers?show=all&page=${page}`)).status, page).toBe(200);
      expect((await screen.get(`/deliveries?page=${page}`)).status, page).toBe(200);
    }
  });

  test('finds by name, last name, job number, telephone number and email address', async () => {
    await take(IDA, '2,Otto Lind,202 555 0118,,text,2026-02-20,short 11,no,America/Chicago,,,');
    for (const q of ['ida', 'Quill', '1', '(202) 555-0117', 'ida@example.org']) {
      const page = seen((await screen.get(`/wearers?q=${encodeURIComponent(q)}`)).html);
      expect(page, q).toContain('Ida Quill');
      expect(page, q).not.toContain('Otto Lind');
    }
    expect(seen((await screen.get('/wearers?q=_')).html)).toContain('Nobody found for “_”.');
  });
});

describe('one wearer', () => {
  test('has pairs, plan, ways to be reached with consent, and what was said', async () => {
    await take(IDA, '2,Otto Quill,202 555 0117,,text,2026-02-20,short 11,no,America/New_York,,,');
    const path = await wearerPath('Ida Quill');
    const page = seen((await screen.get(path)).html);
    expect(page).toContain('10:00 their time');
    expect(page).toContain('first multifocal, soft 15, job 1');
    expect(page).toContain('Plan running');
    expect(page).toContain('day 7, Fri 6 Mar, about 10:00 their time');
    expect(page).toContain('+1 202-555-0117');
    expect(page).toContain('Otto Quill');
    expect(page).toMatch(/yes, today 10:00: column “consent” .*says “both”, noted by Ana Example/);
  });

  test('whose zone is mended has everything planned moved to the same hour of the new clock', async () => {
    await take(IDA);
    const path = await wearerPath('Ida Quill');
    expect(await dueAt('day 7')).toBe('2026-03-06T15:00:00.000Z');
    expect(await dueAt('day 14')).toBe('2026-03-13T14:00:00.000Z');
    const done = await screen.post(`${path}/zone`, { time_zone: 'America/Los_Angeles' });
    expect(seen(done.then!.html)).toContain('America/Los Angeles (set by Ana Example)');
    expect(await dueAt('day 7')).toBe('2026-03-06T18:00:00.000Z');
    expect(await dueAt('day 14')).toBe('2026-03-13T17:00:00.000Z');
  });

  test('whose zone is set to no IANA name is told so, and nothing moves', async () => {
    await take(IDA);
    const path = await wearerPath('Ida Quill');
    const done = await screen.post(`${path}/zone`, { time_zone: 'EST' });
    expect(done.status).toBe(400);
    expect(done.html).toContain('id="zone-trouble"');
    expect(await dueAt('day 7')).toBe('2026-03-06T15:00:00.000Z');
  });

  test('whose zone is taken back gets the zones that state and country allow, and waits for the latest', async () => {
    await take('1,Ida Quill,202 555 0117,,text,2026-02-27,soft 15,yes,,Tennessee,,');
    const path = await wearerPath('Ida Quill');
    await screen.post(`${path}/zone`, { time_zone: 'Europe/London' });
    expect(await dueAt('day 7')).toBe('2026-03-06T10:00:00.000Z');
    await screen.post(`${path}/zone`, { time_zone: '' });
    expect(await dueAt('day 7')).toBe('2026-03-06T16:00:00.000Z');
    expect(seen((await screen.get(path)).html)).toContain('from country, state and postcode');
  });

  test('met at the counter, with nothing told of where they live, has the shop’s own clock', async () => {
    await take('1,Ida Quill,202 555 0117,,text,2026-02-27,soft 15,yes,,,,');
    const page = seen((await screen.get(await wearerPath('Ida Quill'))).html);
    expect(page).toContain("America/New York (the shop's, met at the counter)");
  });

  test('who tells staff to stop is stopped on that way only, on record with the reason', async () => {
    await take(IDA);
    const path = await wearerPath('Ida Quill');
    const done = await screen.post(`${path}/stop`, { channel: 'text', why: 'said to staff' });
    const page = seen(done.then!.html);
    expect(page).toContain('Stopped: no more texts to them.');
    expect(page).toContain('stopped today 10:00, told to staff: “said to staff”, noted by Ana Example');
    const standing = await screen.shell.db
      .selectFrom('wearer_contact')
      .select(['channel', 'consent'])
      .execute();
    expect(standing.sort((a, b) => (a.channel < b.channel ? -1 : 1))).toEqual([
      { channel: 'email', consent: 'given' },
      { channel: 'text', consent: 'withdrawn' },
    ]);
    await screen.post(`${path}/stop`, { channel: 'all', why: '' });
    const left = await screen.shell.db.selectFrom('wearer_contact').select('consent').execute();
    expect(left.every((row) => row.consent === 'withdrawn')).toBe(true);
  });

  test('who prefers a call is noted; a way that there is not is refused', async () => {
    await take(IDA);
    const path = await wearerPath('Ida Quill');
    await screen.post(`${path}/prefers`, { prefers: 'phone' });
    const prefers = async () =>
      (await screen.shell.db.selectFrom('wearer').select('prefers').executeTakeFirstOrThrow()).prefers;
    expect(await prefers()).toBe('phone');
    const done = await screen.post(`${path}/prefers`, { prefers: 'pigeon' });
    expect(seen(done.then!.html)).toContain('“pigeon” is no way to reach somebody.');
    expect(await prefers()).toBe('phone');
  });

  test('with a hostile name and hostile words stays text', async () => {
    await take(
      '1,"<img src=x onerror=alert(1)>",202 555 0117,,text,2026-02-27,"</title><b>",yes,America/New_York,,,',
    );
    await says('+12025550117', '<script>alert(2)</script> the floor sways');
    const row = await screen.shell.db.selectFrom('wearer').select('wearer_id').executeTakeFirstOrThrow();
    for (const path of ['/wearers', `/wearers/${row.wearer_id}`]) {
      const { html } = await screen.get(path);
      expect(html, path).not.toContain('<img src=x');
      expect(html, path).not.toContain('<script>alert');
      expect(html, path).not.toContain('</title><b>');
      expect(html, path).toContain('&lt;img src=x');
    }
  });

  test('that is not there says so', async () => {
    expect((await screen.get('/wearers/none')).status).toBe(404);
    expect((await screen.post('/wearers/none/zone', { time_zone: 'Europe/London' })).status).toBe(404);
    expect((await screen.post('/wearers/none/stop', { channel: 'all' })).status).toBe(404);
  });
});
