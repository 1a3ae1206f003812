import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { peopleOnCall } from '../../src/store/alarms.ts';
import type { Database } from '../../src/store/database.ts';
import { findShop } from '../../src/store/shops.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen, valueIn } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
});
afterAll(() => database.close());

const settings = async () => (await findShop(database.db, SHOP)).settings;
const keep = (section: string, fields: Record<string, string>) =>
  screen.post('/shop', { section, ...fields });

describe('the Shop page', () => {
  test('name, number and the name that signs texts are kept and shown again', async () => {
    const done = await keep('shop', { name: 'Corner Optics', phone: '202 555 0133', text_name: 'Corner' });
    expect(seen(done.then!.html)).toContain('Kept. The next message is signed so.');
    expect(valueIn(done.then!.html, 'text_name')).toBe('Corner');
    expect(seen(done.then!.html)).toContain('Corner Optics');
    expect(await settings()).toMatchObject({ phone: '202 555 0133', textName: 'Corner' });
  });

  test('one part that is kept leaves the others as they were', async () => {
    await keep('deadlines', { promise_days: '45', lab_days: '90', lab_from: 'ordered' });
    await keep('costs', { lenses_per_remake: '$118.50' });
    expect(await settings()).toMatchObject({
      phone: '+1 202-555-0100',
      localNumbers: [{ who: 'emergency', number: '911' }],
      promiseDays: 45,
      labWindow: { days: 90, from: 'ordered' },
      costs: { lensesPerRemake: 118.5 },
    });
    await keep('deadlines', { promise_days: '', lab_days: '', lab_from: 'ordered' });
    const now = await settings();
    expect(now.promiseDays).toBeUndefined();
    expect(now.labWindow).toBeUndefined();
  });

  test('hours with the days that are ticked', async () => {
    await keep('hours', { from_hour: '10', to_hour: '18:00', day_1: 'yes', day_5: 'yes' });
    expect((await settings()).openHours).toEqual({ fromHour: 10, toHour: 18, days: [1, 5] });
    const { html } = await screen.get('/shop');
    expect(html).toMatch(/name="day_5" value="yes" checked/);
    expect(html).not.toMatch(/name="day_6" value="yes" checked/);
  });

  test('local numbers, one to a line', async () => {
    await keep('danger', { local_numbers: 'emergency: 911\n\neye hospital: +1 202-555-0199' });
    expect((await settings()).localNumbers).toEqual([
      { who: 'emergency', number: '911' },
      { who: 'eye hospital', number: '+1 202-555-0199' },
    ]);
  });

  test.each([
    ['shop', { name: '' }, 'The shop’s name is missing'],
    ['shop', { name: 'A', phone: '12' }, 'cannot be a phone number'],
    ['shop', { name: 'A', text_name: 'x'.repeat(21) }, 'That is 21 letters.'],
    ['hours', { from_hour: '17', to_hour: '17', day_1: 'yes' }, 'would close before it opens'],
    ['hours', { from_hour: '9', to_hour: '25', day_1: 'yes' }, 'Write 1 to 24.'],
    ['hours', { from_hour: '9', to_hour: '17' }, 'would never be open'],
    ['deadlines', { promise_days: '6' }, 'Write 7 to 365'],
    ['deadlines', { lab_days: '1096' }, 'Write 1 to 1095'],
    ['danger', { local_numbers: 'just ring somebody' }, 'is not read'],
    ['costs', { lenses_per_remake: 'a lot' }, '“a lot” is not read.'],
    ['costs', { staff_hours_per_return: '41' }, 'Write a number from 0 to 40'],
  ])('%s with %o is refused, in words, and nothing changes', async (section, fields, words) => {
    const before = await settings();
    const done = await keep(section, fields);
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain(words);
    expect(await settings()).toEqual(before);
  });

  test('nine ticks stand open until each is done; consent words count for the name that they were read with', async () => {
    const open = (html: string) =>
      [...(/<ul class="before">.*?<\/ul>/s.exec(html)?.[0] ?? '').matchAll(/<a href="([^"]+)">/g)].map(
        (one) => one[1],
      );
    const before = open((await screen.get('/shop')).html);
    expect(before).toEqual(['#try', '#try', '#try', '/people', '#hours', '#consent', '/people', '#backup']);
    await keep('hours', { from_hour: '9', to_hour: '17', day_1: 'yes' });
    await screen.post('/people', {
      name: 'Tom Reyes',
      phone: '202 555 0144',
      role: 'staff',
      licence_number: 'D-1',
      licensed_until: '2026-03-02',
      on_call_order: '2',
    });
    await screen.post('/shop/consent-words', {});
    expect(open((await screen.get('/shop')).html)).toEqual(['#try', '#try', '#try', '/people', '#backup']);
    await keep('shop', { name: 'Another name', phone: '202 555 0133' });
    expect(open((await screen.get('/shop')).html)).toContain('#consent');
  });

  test('a shop without a carrier says that nothing leaves', async () => {
    expect(seen((await screen.get('/shop')).html)).toContain(
      'Text not switched on until it is set and every tick above is there: nothing leaves',
    );
  });
});

describe('People', () => {
  const TOM = {
    name: 'Tom Reyes',
    phone: '202 555 0144',
    email: 'tom@example.org',
    role: 'staff',
    on_call_order: '2',
  };
  const idOf = async (name: string) =>
    (
      await database.db
        .selectFrom('person')
        .select('person_id')
        .where('name', '=', name)
        .executeTakeFirstOrThrow()
    ).person_id;

  test('licensed through the last day, run out on the next', async () => {
    await screen.post('/people', { ...TOM, licence_number: 'D-1', licensed_until: '2026-03-02' });
    await screen.post('/people', {
      ...TOM,
      name: 'Uma Field',
      email: 'uma@example.org',
      on_call_order: '3',
      licence_number: 'D-2',
      licensed_until: '2026-03-01',
    });
    const text = seen((await screen.get('/people')).html);
    expect(text).toContain('licensed until Mon 2 Mar');
    expect(text).toContain('licence ran out Sun 1 Mar');
    expect(text).toContain('Ana Example owner number 1 not licensed');
    expect(text).toContain('Ana Example cannot be told of danger');
  });

  test('a person is changed in the same form, filled with what is known', async () => {
    await screen.post('/people', TOM);
    const id = await idOf('Tom Reyes');
    const { html } = await screen.get(`/people?change=${id}`);
    expect(seen(html)).toContain('Change Tom Reyes');
    expect(valueIn(html, 'phone')).toBe('+1 202-555-0144');
    await screen.post(`/people/${id}`, { ...TOM, phone: '202 555 0145', on_call_order: '' });
    const row = await database.db
      .selectFrom('person')
      .select(['phone_e164', 'on_call_order'])
      .where('person_id', '=', id)
      .executeTakeFirstOrThrow();
    expect(row).toEqual({ phone_e164: '+12025550145', on_call_order: null });
  });

  test.each([
    [{ name: '' }, 'The name is missing'],
    [{ email: 'tom at home' }, 'is not an email address'],
    [{ phone: '1' }, 'cannot be a phone number'],
    [{ on_call_order: '1' }, 'Place 1 is Ana Example’s.'],
    [{ on_call_order: '21' }, 'Write 1 to 20'],
    [{ phone: '', email: '' }, 'Nobody can be told without a number or an address.'],
    [{ licence_number: 'D-1' }, 'Fill in both, or neither.'],
    [{ licence_number: 'D-1', licensed_until: '2026-02-30' }, '“2026-02-30” is no day.'],
    [{ role: 'king' }, '“king” is no role.'],
    [{ on_call_from: '8' }, 'is no full hour after 8'],
    [{ on_call_from: '18', on_call_to: '18' }, 'is no full hour after 18'],
    [{ on_call_from: '24', on_call_to: '24' }, 'Write 0 to 23'],
  ])('%o is refused, in words', async (wrong, words) => {
    const done = await screen.post('/people', { ...TOM, ...wrong });
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain(words);
    expect(await database.db.selectFrom('person').select('name').execute()).toEqual([
      { name: 'Ana Example' },
    ]);
  });

  test('hours in which somebody is told are kept, shown, and taken away again', async () => {
    await screen.post('/people', { ...TOM, on_call_days: '1,2,3,4,5', on_call_from: '8', on_call_to: '18' });
    expect(seen((await screen.get('/people')).html)).toContain('number 2, Mondays to Fridays, 8 to 18');
    const id = await idOf('Tom Reyes');
    expect(valueIn((await screen.get(`/people?change=${id}`)).html, 'on_call_to')).toBe('18');
    const [ana, tom] = await peopleOnCall(database.db, SHOP);
    expect(ana!.hours).toBeNull();
    expect(tom!.hours).toEqual({ days: [1, 2, 3, 4, 5], fromHour: 8, toHour: 18 });
    await screen.post(`/people/${id}`, { ...TOM, on_call_from: '', on_call_to: '' });
    expect((await peopleOnCall(database.db, SHOP))[1]!.hours).toBeNull();
  });

  test('who leaves stays on record, is off call, and the last owner cannot leave', async () => {
    await screen.post('/people', TOM);
    const done = await screen.post(`/people/${await idOf('Tom Reyes')}/leave`, {});
    expect(seen(done.then!.html)).toContain('Tom Reyes staff no longer here not on call');
    const owner = await screen.post(`/people/${await idOf('Ana Example')}/leave`, {});
    expect(seen(owner.then!.html)).toContain('The shop would have no owner.');
    expect((await screen.post('/people/none/leave', {})).status).toBe(404);
  });
});
