import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import { TOKEN_LENGTH } from '../../src/channels/tokens.ts';
import { askToMeasure } from '../../src/followup/askToMeasure.ts';
import { playUntil } from '../../src/followup/playUntil.ts';
import type { Shell } from '../../src/followup/shell.ts';
import type { Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Database } from '../../src/store/database.ts';
import { createApp } from '../../src/web/app.tsx';
import { openWorld, SHOP, type TestWorld } from '../followup/world.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { seen } from './screen.ts';

/* Links in letters, from the message as it left to the page and back into the case. */

const BASE = 'https://shop.example';
const FLASHES = 'since this morning lots of new floaters and flashes in my left eye';

describe.each(DATABASES)('links in letters, database %s', (kind) => {
  let database: Database;
  let world: TestWorld;
  let shell: Shell;
  let app: ReturnType<typeof createApp>;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    world = await openWorld(database);
    const key = { version: 1, secret: 'a secret for tests only, long enough' };
    shell = {
      ...world.shell,
      links: () => ({ base: BASE, key }),
      mail: () => ({ mailbox: 'care@shop.example', bounceMailbox: 'bounce@shop.example', key }),
    };
    const none = async () => {};
    const room: Room = {
      shell,
      shopId: SHOP,
      kind: 'own',
      work: none,
      moveClock: none,
      close: none,
    };
    app = createApp(
      { room: () => room, hosts: new Set(['127.0.0.1']), key: 'k', filling: null, choose: async () => [] },
      silentLog,
    );
  });

  const play = (to: string) =>
    playUntil(database.db, world.clock.now(), new Date(to), async (at) => {
      world.clock.moveTo(at);
      await tick(shell);
    });
  /** The link in the newest thing that was sent to an address. */
  const linkTo = async (address: string): Promise<string> => {
    const row = await database.db
      .selectFrom('rehearsal_item')
      .select('body')
      .where('address', '=', address)
      .orderBy('at', 'desc')
      .orderBy('item_id', 'desc')
      .executeTakeFirstOrThrow();
    return new RegExp(`${BASE}(/w/[a-z2-7]{${TOKEN_LENGTH}})`).exec(row.body)![1]!;
  };
  const ask = (path: string, init: RequestInit = {}) =>
    app.request(`${BASE}${path}`, { ...init, headers: { host: 'shop.example', ...init.headers } });
  const press = (path: string, fields: Record<string, string>) =>
    ask(path, {
      method: 'POST',
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      body: new URLSearchParams(fields).toString(),
    });
  const inbounds = () => database.db.selectFrom('inbound').selectAll().orderBy('received_at').execute();
  const consents = async () => {
    const rows = await database.db
      .selectFrom('wearer_contact')
      .select(['channel', 'consent'])
      .orderBy('channel')
      .execute();
    return Object.fromEntries(rows.map((row) => [row.channel, row.consent]));
  };

  test('a check-in carries a link of 24 characters of path, and the record of it holds only a hash', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    expect(link).toHaveLength(24);
    const token = link.slice('/w/'.length);
    const everything = JSON.stringify([
      await database.db.selectFrom('message').selectAll().execute(),
      await database.db.selectFrom('token').selectAll().execute(),
    ]);
    expect(everything).not.toContain(token);
    expect(everything).toContain('/w/answer-');
  });

  test('GET and HEAD of a link store nothing, however often a scanner follows it; it asks without a script', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    for (const method of ['GET', 'HEAD', 'GET']) expect((await ask(link, { method })).status).toBe(200);
    const page = await ask(link);
    const html = await page.text();
    expect(await inbounds()).toEqual([]);
    expect(html).not.toMatch(/<script/);
    expect(seen(html)).toContain('How are your new glasses?');
    expect(seen(html)).not.toContain('Wearer 1');
    expect(page.headers.get('referrer-policy')).toBe('no-referrer');
    expect(page.headers.get('cache-control')).toBe('no-store');
    expect(page.headers.get('set-cookie')).toBeNull();
    expect((await ask(link, { method: 'PUT' })).status).toBe(405);
  });

  test('a tap is a reply like any other: stored once, read, answered by text; a second tap is kept beside it', async () => {
    const { phone, wearerId } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    const [one, again] = await Promise.all([press(link, { answer: '2' }), press(link, { answer: '2' })]);
    expect([one.status, again.status]).toEqual([200, 200]);
    expect(await inbounds()).toMatchObject([{ channel: 'page', body: '2', from_address: phone }]);
    await press(link, { answer: '3' });
    expect((await inbounds()).map((row) => row.body)).toEqual(['2', '3']);
    const standing = await database.db
      .selectFrom('inbound_standing')
      .selectAll()
      .where('wearer_id', '=', wearerId)
      .execute();
    expect(standing.map((row) => row.linked_how)).toEqual(['their own link', 'their own link']);
    await play('2026-03-05T15:05:00Z');
    expect((await world.sent(phone)).at(-1)?.body).toContain('What is not right?');
  });

  test('the letters of an old question are read as answers to that question, and not to the newest', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const dayThree = await linkTo(phone);
    await press(dayThree, { answer: '3' });
    await play('2026-03-05T15:05:00Z');
    expect((await world.sent(phone)).at(-1)?.body).toContain('What is not right?');
    await press(dayThree, { answer: '1' });
    const read = await database.db
      .selectFrom('reading')
      .select(['labels', 'bare_answer'])
      .orderBy('at')
      .execute();
    expect(read.at(-1)).toMatchObject({
      labels: ['settled'],
      bare_answer: { questionId: 'check-in', answer: '1' },
    });
  });

  test('danger in own words: the case opens, the alarm is on record, and the page says the caution at once', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const said = await press(await linkTo(phone), { text: FLASHES });
    expect(seen(await said.text())).toContain('911');
    expect(await database.db.selectFrom('alarm').select('kind').execute()).toEqual([{ kind: 'danger' }]);
    expect((await world.sent(phone)).map((one) => one.purpose)).not.toContain('stop confirmed');
  });

  test('a link that is altered, or of another purpose, or of nobody is 404 and tells nothing; one that ran out tells the number', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    const altered = `${link.slice(0, -1)}${link.endsWith('a') ? 'b' : 'a'}`;
    for (const path of [altered, `/w/${'a'.repeat(TOKEN_LENGTH)}`, '/w/x', `${link}/light-reactive`]) {
      const page = await ask(path);
      expect(page.status, path).toBe(404);
      expect(await page.text(), path).not.toContain('Test shop');
    }
    expect((await press(altered, { answer: '1' })).status).toBe(404);
    world.clock.moveTo(new Date('2026-04-06T15:00:00Z'));
    const late = await ask(link);
    expect(late.status).toBe(410);
    expect(seen(await late.text())).toContain('+1 202-555-0100');
    expect((await press(link, { answer: '1' })).status).toBe(410);
    expect(await inbounds()).toEqual([]);
  });

  test('20 answers an hour under one link are kept and the 21st is not; a caller who guesses is told to wait', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    const statuses: number[] = [];
    for (let at = 0; at < 21; at++)
      statuses.push((await press(link, { text: `and another thing ${at}` })).status);
    expect(statuses.filter((status) => status === 200)).toHaveLength(20);
    expect(statuses.at(-1)).toBe(429);
    expect(await inbounds()).toHaveLength(20);
    const guesses: number[] = [];
    for (let at = 0; at < 21; at++) guesses.push((await ask('/w/x')).status);
    expect(guesses.slice(0, 20)).toEqual(Array.from({ length: 20 }, () => 404));
    expect(guesses.at(-1)).toBe(429);
    // Somebody else is not held up by that.
    const line = { incoming: { socket: { remoteAddress: '203.0.113.9' } } };
    expect((await app.request(`${BASE}/w/x`, { headers: { host: 'shop.example' } }, line)).status).toBe(404);
    // Nor does a word of whoever guesses make somebody else of them.
    expect((await ask('/w/x', { headers: { 'x-forwarded-for': '203.0.113.7' } })).status).toBe(429);
  });

  test('an email offers one click over https and by mail; the click alone stops everything, with no further message', async () => {
    const email = 'sam@example.com';
    let headers: Readonly<Record<string, string>> | undefined;
    const carriers = shell.carrier;
    shell = {
      ...shell,
      carrier: (shopId, channel) => {
        const carrier = carriers(shopId, channel)!;
        return {
          ...carrier,
          send(message) {
            headers = message.headers;
            return carrier.send(message);
          },
        };
      },
    };
    await world.job({ email, prefers: 'email' });
    await play('2026-03-05T15:01:00Z');
    expect(headers!['List-Unsubscribe-Post']).toBe('List-Unsubscribe=One-Click');
    const [, byPage] = /^<https:\/\/shop\.example(\/w\/[a-z2-7]{21})>, <mailto:care\+/.exec(
      headers!['List-Unsubscribe']!,
    )!;
    expect((await ask(byPage!)).status).toBe(200);
    expect(await consents()).toEqual({ email: 'given', text: 'given' });
    const clicked = await press(byPage!, { 'List-Unsubscribe': 'One-Click' });
    expect(clicked.status).toBe(200);
    expect(clicked.headers.get('location')).toBeNull();
    expect(await consents()).toEqual({ email: 'withdrawn', text: 'withdrawn' });
    await play('2026-03-06T15:01:00Z');
    const purposes = await database.db.selectFrom('message').select('purpose').execute();
    expect(purposes.map((row) => row.purpose)).not.toContain('stop confirmed');
  });

  test('the button for texts stops texts and leaves emails; pressed again after START it stops again', async () => {
    const { phone } = await world.job({ email: 'sam@example.com', prefers: 'email' });
    await play('2026-03-05T15:01:00Z');
    const row = await database.db
      .selectFrom('rehearsal_item')
      .select('body')
      .where('channel', '=', 'email')
      .orderBy('at', 'desc')
      .executeTakeFirstOrThrow();
    const stop = /this page: https:\/\/shop\.example(\/w\/[a-z2-7]{21})/.exec(row.body)![1]!;
    await press(stop, { stop: 'text' });
    expect(await consents()).toEqual({ email: 'given', text: 'withdrawn' });
    await world.says(phone, 'START');
    expect(await consents()).toEqual({ email: 'given', text: 'given' });
    await press(stop, { stop: 'text' });
    expect(await consents()).toEqual({ email: 'given', text: 'withdrawn' });
    expect((await press(stop, {})).status).toBe(400);
  });

  test('tips open the pages of this pair and no others, in both languages', async () => {
    const { phone } = await world.job();
    await play('2026-03-02T15:01:00Z');
    const link = await linkTo(phone);
    expect(seen(await (await ask(link)).text())).toContain('Point your nose at what you want to see');
    expect(seen(await (await ask(`${link}?lang=es`)).text())).toContain('Apunte la nariz');
    expect((await ask(`${link}/light-reactive`)).status).toBe(404);
    expect((await press(link, { answer: '1' })).status).toBe(405);
    await database.db
      .updateTable('lens_design')
      .set({
        light_reactive: JSON.stringify({
          grade: 'ordinary',
          clearPercent: 88,
          darkPercent: 15,
          darkAfterS: 45,
          clearHalfLifeS: 120,
          atTemperatureC: 23,
        }),
      })
      .where('name', '=', 'soft 15')
      .execute();
    const tint = await (await ask(`${link}/light-reactive?air=cold`)).text();
    expect(seen(tint)).toContain('cold, 5 °C');
    expect(tint).toContain('<svg');
  });

  test('a photo is kept without the place where it was taken, and a person looks at it', async () => {
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    const link = await linkTo(phone);
    const form = new FormData();
    form.set('text', '');
    form.set('photo', new File([jpegWithPlace()], 'me.jpg', { type: 'image/jpeg' }));
    const sent = await ask(link, { method: 'POST', body: form });
    expect(sent.status).toBe(200);
    const [picture] = await database.db.selectFrom('picture').selectAll().execute();
    expect(picture).toMatchObject({ state: 'kept', content_type: 'image/jpeg' });
    expect(picture!.bytes!.includes('GPS')).toBe(false);
    const standing = await database.db.selectFrom('inbound_standing').selectAll().executeTakeFirstOrThrow();
    expect(standing).toMatchObject({ state: 'tray', tray_why: 'picture or voice only' });
    const bad = new FormData();
    bad.set('photo', new File(['<svg onload="x"/>'], 'me.jpg', { type: 'image/jpeg' }));
    expect((await ask(link, { method: 'POST', body: bad })).status).toBe(400);
  });

  test('measured at home: two numbers become facts of the job and a line in the talk; a photo waits for a person', async () => {
    const { phone, wearerId, pairId } = await world.job();
    await play('2026-03-05T15:01:00Z');
    await press(await linkTo(phone), { text: 'I have to lift my chin right up to read anything' });
    const { job_id } = await database.db
      .selectFrom('pair')
      .select('job_id')
      .where('pair_id', '=', pairId)
      .executeTakeFirstOrThrow();
    await askToMeasure(shell, SHOP, job_id, { channel: 'text', onceKey: 'm' }, 'Ana');
    await play('2026-03-05T15:10:00Z');
    const row = await database.db
      .selectFrom('rehearsal_item')
      .select('body')
      .where('body', 'like', '%measure%')
      .executeTakeFirstOrThrow();
    const link = /(\/w\/[a-z2-7]{21})/.exec(row.body)![1]!;
    expect(seen(await (await ask(link)).text())).toContain('Measure for us');
    expect((await press(link, { what: 'marks', right_mm: '200', left_mm: '19' })).status).toBe(400);
    expect((await press(link, { what: 'marks', right_mm: '20,5', left_mm: '20' })).status).toBe(200);
    const facts = await database.db
      .selectFrom('fact')
      .select(['key', 'eye', 'value'])
      .where('job_id', '=', job_id)
      .where('source', '=', 'wearer')
      .where('key', '=', 'pupil_height_mm')
      .orderBy('eye', 'desc')
      .execute();
    expect(facts).toEqual([
      { key: 'pupil_height_mm', eye: 'R', value: 20.5 },
      { key: 'pupil_height_mm', eye: 'L', value: 20 },
    ]);
    const form = new FormData();
    form.set('what', 'photo');
    form.set('photo', new File([jpegWithPlace()], 'me.jpg', { type: 'image/jpeg' }));
    expect((await ask(link, { method: 'POST', body: form })).status).toBe(200);
    const said = await database.db
      .selectFrom('inbound_standing as s')
      .innerJoin('inbound as i', 'i.inbound_id', 's.inbound_id')
      .select(['i.body', 's.state', 's.wearer_id'])
      .where('i.received_at', '=', world.clock.now())
      .orderBy('i.body')
      .execute();
    expect(said).toEqual([
      { body: '', state: 'tray', wearer_id: wearerId },
      { body: 'Measured at home: right 20,5, left 20 mm', state: 'sorted', wearer_id: wearerId },
    ]);
  });

  test('“I have it” by the link in the alarm: GET changes nothing, one press ends the alarm and stands on the case', async () => {
    await database.db.updateTable('person').set({ phone_e164: '+12025550190' }).execute();
    const { phone } = await world.job();
    await play('2026-03-05T15:01:00Z');
    await press(await linkTo(phone), { text: FLASHES });
    await tick(shell);
    const link = await linkTo('+12025550190');
    const page = await ask(link);
    expect(seen(await page.text())).toContain('Ring now: W');
    const going = () => database.db.selectFrom('alarm').select(['ended_why']).execute();
    expect(await going()).toEqual([{ ended_why: null }]);
    const pressed = seen(await (await press(link, { have: 'it' })).text());
    expect(pressed).toContain('Owner has it');
    expect(await going()).toEqual([{ ended_why: 'Owner has it' }]);
    const file = await database.db.selectFrom('case_file').select('held_by').executeTakeFirstOrThrow();
    expect(file.held_by).toBe('Owner');
    // A wearer's link presses nothing here.
    expect((await press(link, { answer: '1' })).status).toBe(200);
    expect(await inbounds()).toHaveLength(1);
  });
});

/** A JPEG of a few bytes with a note of the camera that names a place. */
function jpegWithPlace(): Uint8Array<ArrayBuffer> {
  const note = Buffer.from('Exif\0\0GPS 51.5 N 0.1 W');
  return new Uint8Array(
    Buffer.concat([
      Buffer.from([0xff, 0xd8, 0xff, 0xe1, 0, note.length + 2]),
      note,
      Buffer.from([0xff, 0xda, 0, 2, 1, 2, 3, 0xff, 0xd9]),
    ]),
  );
}
