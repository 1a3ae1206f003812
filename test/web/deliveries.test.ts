import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Database } from '../../src/store/database.ts';
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

const JOB = {
  job_number: '20731',
  name: 'Ida Quill',
  phone: '202 555 0117',
  email: 'ida@example.org',
  consent: '',
  handed_over_on: '',
  lens_design: 'soft 15',
  first_multifocal: 'yes',
};

const rows = (table: 'job' | 'pair' | 'check_in' | 'fact' | 'consent_event' | 'plan' | 'wearer_contact') =>
  screen.shell.db.selectFrom(table).selectAll().where('shop_id', '=', SHOP).execute() as Promise<
    Record<string, unknown>[]
  >;

async function typeIn(over: Record<string, string> = {}): Promise<string> {
  const done = await screen.post('/deliveries', { ...JOB, ...over });
  expect(done.status, seen(done.html)).toBe(303);
  return done.path;
}

describe('a job typed in', () => {
  test('stands in the list of deliveries and has a page of its own', async () => {
    const path = await typeIn({ order_R: '+1.25 -0.50 x 90', order_L: '+1.50', wearer_pd_mm_R: '31,5' });
    const list = seen((await screen.get('/deliveries')).html);
    expect(list).toContain('Ida Quill');
    expect(list).toContain('20731');
    expect(list).toContain('first multifocal, soft 15');
    expect(list).toContain('Hand over');
    const job = seen((await screen.get(path)).html);
    expect(job).toContain('Job 20731');
    expect(job).toContain('+1.25 −0.50 × 90');
    expect(job).toContain('31.5');
  });

  test('with bad fields is refused at the fields, and nothing typed is lost', async () => {
    const done = await screen.post('/deliveries', {
      ...JOB,
      name: '',
      phone: '12',
      wearer_pd_mm_R: '315',
      order_L: '+1.50',
    });
    expect(done.status).toBe(400);
    expect(seen(done.html)).toContain('Please mend 3 fields');
    expect(done.html).toContain('id="f-name-trouble"');
    expect(done.html).toContain('id="f-phone-trouble"');
    expect(done.html).toContain('id="f-wearer_pd_mm_R-trouble"');
    expect(valueIn(done.html, 'lens_design')).toBe('soft 15');
    expect(valueIn(done.html, 'wearer_pd_mm_R')).toBe('315');
    expect(valueIn(done.html, 'order_L')).toBe('+1.50');
    expect(await rows('job')).toHaveLength(0);
  });

  test('trouble with one part of a power is told at that power', async () => {
    const done = await screen.post('/deliveries', { ...JOB, order_R: '+1.25 -0.50 x 900' });
    expect(done.status).toBe(400);
    expect(done.html).toContain('id="f-order_R-trouble"');
  });

  test('twice with the same values is one job; with other values it is refused at its number', async () => {
    const path = await typeIn();
    const again = await screen.post('/deliveries', JOB);
    expect(again.path).toBe(path);
    expect(seen(again.then!.html)).toContain('nothing was changed');
    const other = await screen.post('/deliveries', { ...JOB, lens_design: 'short 11' });
    expect(other.status).toBe(400);
    expect(other.html).toContain('id="f-job_number-trouble"');
    expect(await rows('job')).toHaveLength(1);
  });

  test('without a number is told apart by wearer, lens and day', async () => {
    await typeIn({ job_number: '', ordered_on: '2026-02-20' });
    expect((await rows('job'))[0]!.job_key).toBe('Ida Quill / soft 15 / 2026-02-20');
  });

  test('without a number or address is taken in, counted and marked as never messaged', async () => {
    await typeIn({ phone: '', email: '' });
    const list = seen((await screen.get('/deliveries')).html);
    expect(list).toContain('no number and no address: never messaged');
    expect(list).toContain('One job has no number, no address or no consent');
  });

  test('a hostile name is text everywhere', async () => {
    const path = await typeIn({ name: '<script>alert(1)</script> "O\'Hara" & Co' });
    for (const page of ['/deliveries', path, '/wearers?show=all', '/deliveries?q=%3Cscript']) {
      const { html } = await screen.get(page);
      expect(html, page).not.toContain('<script>alert');
      expect(html, page).toContain('&lt;script&gt;alert(1)');
    }
  });

  test('a form without its token changes nothing', async () => {
    const done = await screen.post('/deliveries', { ...JOB, csrf: '0'.repeat(64) });
    expect(done.status).toBe(403);
    expect(await rows('job')).toHaveLength(0);
  });
});

describe('the hand-over', () => {
  const asked = {
    handed_over_on: '2026-03-02',
    consent_text: 'given',
    consent_email: 'refused',
    consent_by: 'Tom Reyes',
    words: 'May we write to you?',
    slip_test: 'slides',
  };

  test('makes the pair, its plan and its check-ins, from the day of the hand-over', async () => {
    const path = await typeIn();
    const done = await screen.post(`${path}/hand-over`, asked);
    expect(done.status, seen(done.html)).toBe(303);
    expect(await rows('pair')).toMatchObject([
      { first_worn_on: '2026-03-02', first_worn_how: 'handed over', handed_over_on: '2026-03-02' },
    ]);
    expect(await rows('plan')).toMatchObject([{ state: 'running' }]);
    const slots = (await rows('check_in')).map((row) => `${String(row.slot)} ${String(row.due_on)}`).sort();
    expect(slots).toEqual([
      'day 14 2026-03-16',
      'day 3 2026-03-05',
      'day 30 2026-04-01',
      'day 7 2026-03-09',
      'tips 2026-03-02',
    ]);
    const page = seen(done.then!.html);
    expect(page).toContain('Handed over Mon 2 Mar; texts yes, email no, asked by Tom Reyes.');
    expect(page).not.toContain('Ask in these words');
    expect(seen((await screen.get('/deliveries')).html)).not.toContain('Ida Quill');
  });

  test('keeps the answers about consent for each channel, in the words in which it was asked', async () => {
    const path = await typeIn();
    await screen.post(`${path}/hand-over`, asked);
    const events = (await rows('consent_event')).sort((a) => (a.channel === 'text' ? -1 : 1));
    expect(
      events.map(({ channel, act, words, recorded_by }) => ({ channel, act, words, recorded_by })),
    ).toEqual([
      { channel: 'text', act: 'given', words: 'May we write to you?', recorded_by: 'Tom Reyes' },
      { channel: 'email', act: 'refused', words: 'May we write to you?', recorded_by: 'Tom Reyes' },
    ]);
    const standing = (await rows('wearer_contact'))
      .map((row) => `${String(row.channel)} ${String(row.consent)}`)
      .sort();
    expect(standing).toEqual(['email withdrawn', 'text given']);
  });

  test('keeps the slip test as a fact of the job', async () => {
    const path = await typeIn();
    await screen.post(`${path}/hand-over`, asked);
    expect(await rows('fact')).toMatchObject([{ key: 'slips', value: true, source: 'hand-over' }]);
  });

  test('counts days of wear from the day first worn when that is another', async () => {
    const path = await typeIn();
    await screen.post(`${path}/hand-over`, {
      ...asked,
      handed_over_on: '2026-02-27',
      first_worn_on: '2026-03-01',
    });
    expect(await rows('pair')).toMatchObject([
      { first_worn_on: '2026-03-01', first_worn_how: 'said by the wearer' },
    ]);
  });

  test('before the order or in the future is refused at its field and kept in the form', async () => {
    const path = await typeIn({ ordered_on: '2026-02-20' });
    const early = await screen.post(`${path}/hand-over`, { ...asked, handed_over_on: '2026-02-10' });
    expect(early.status).toBe(400);
    expect(early.html).toContain('id="hand-on-trouble"');
    expect(valueIn(early.html, 'handed_over_on')).toBe('2026-02-10');
    const late = await screen.post(`${path}/hand-over`, { ...asked, first_worn_on: '2026-03-09' });
    expect(late.html).toContain('id="hand-worn-trouble"');
    expect(await rows('pair')).toHaveLength(0);
    expect(await rows('consent_event')).toHaveLength(0);
  });

  test('happens once', async () => {
    const path = await typeIn();
    await screen.post(`${path}/hand-over`, asked);
    const again = await screen.post(`${path}/hand-over`, asked);
    expect(seen(again.then!.html)).toContain('was handed over already');
    expect(await rows('pair')).toHaveLength(1);
  });

  test('of a posted pair: posting asks whether it has come, arrival starts the days of wear', async () => {
    const path = await typeIn({ way: 'post' });
    await screen.post(`${path}/date`, { which: 'posted', on: '2026-02-27' });
    expect(await rows('pair')).toMatchObject([{ first_worn_how: 'reckoned' }]);
    expect((await rows('check_in')).every((row) => row.kind === 'have they come')).toBe(true);
    expect(seen((await screen.get('/deliveries')).html)).toContain(
      'posted Fri 27 Feb, not known to have come',
    );
    await screen.post(`${path}/hand-over`, { ...asked, handed_over_on: '2026-03-02' });
    expect(await rows('pair')).toMatchObject([{ first_worn_on: '2026-03-02', first_worn_how: 'arrived' }]);
    const planned = (await rows('check_in')).filter((row) => row.state === 'planned');
    expect(planned.map((row) => row.due_on).sort()).toEqual([
      '2026-03-02',
      '2026-03-05',
      '2026-03-09',
      '2026-03-16',
      '2026-04-01',
    ]);
    expect(seen((await screen.get('/deliveries')).html)).not.toContain('Ida Quill');
  });
});

describe('the page of a job', () => {
  test('takes a number in as a file would, and refuses one that cannot be', async () => {
    const path = await typeIn();
    const good = await screen.post(`${path}/facts`, {
      key: 'made_height_mm',
      value: '18,5',
      eye: 'L',
      how: 'ruler',
    });
    expect(good.status).toBe(303);
    expect(await rows('fact')).toMatchObject([
      { key: 'made_height_mm', eye: 'L', value: 18.5, how: 'ruler' },
    ]);
    const bad = await screen.post(`${path}/facts`, {
      key: 'made_height_mm',
      value: '185',
      eye: 'L',
      how: '',
    });
    expect(bad.status).toBe(400);
    expect(bad.html).toContain('id="number-trouble"');
    expect(valueIn(bad.html, 'value')).toBe('185');
    expect(await rows('fact')).toHaveLength(1);
  });

  test('holds readings against the as-worn powers and names the line that is out', async () => {
    const path = await typeIn({
      order_R: '+1.25',
      order_L: '+1.50 -1.00 x 90',
      as_worn_R: '+1.18',
      as_worn_L: '+1.43 -1.00 x 90',
      read_R: '+1.25',
      read_L: '+1.43 -1.00 x 110',
    });
    const page = seen((await screen.get(path)).html);
    expect(page).toContain('By ANSI Z80.1: out in L axis. Hold it before it leaves.');
    expect(page).not.toContain('out in R sphere');
  });

  test('says why it cannot judge where nothing was read, or a compensated lens came without its powers', async () => {
    const unread = await typeIn({ order_R: '+1.25', order_L: '+1.50' });
    expect(seen((await screen.get(unread)).html)).toContain(
      'Nothing of the finished pair has been read yet.',
    );
    const bare = await typeIn({
      job_number: '2',
      order_R: '+1.25',
      order_L: '+1.50',
      read_R: '+9.00',
      read_L: '+1.50',
    });
    const page = seen((await screen.get(bare)).html);
    expect(page).toContain('nothing of it can be judged');
    expect(page).not.toContain('out in');
  });

  test('tells what foretells trouble with number and threshold, and draws the lenses', async () => {
    const path = await typeIn({
      order_R: '+1.25',
      order_L: '+1.50',
      order_add_D_R: '2.25',
      order_add_D_L: '2.25',
      frame_a_mm: '52',
      frame_b_mm: '34',
      dbl_mm: '18',
      fitting_height_mm_R: '18',
      fitting_height_mm_L: '18',
      wearer_pd_mm_R: '31',
      wearer_pd_mm_L: '32',
      corridor_mm: '15',
    });
    const { html } = await screen.get(path);
    expect(seen(html)).toContain('High first add R.');
    expect(seen(html)).toContain('2.25 D');
    expect(seen(html)).toContain('Little near zone R.');
    expect(html).toContain('id="job-lens');
  });

  test('sets days that are not known yet, and refuses one before the order', async () => {
    const path = await typeIn({ ordered_on: '2026-02-20' });
    const done = await screen.post(`${path}/date`, { which: 'received', on: '2026-03-01' });
    expect(done.status).toBe(303);
    expect((await rows('job'))[0]!.received_on).toBe('2026-03-01');
    const bad = await screen.post(`${path}/date`, { which: 'received', on: '2026-02-01' });
    expect(bad.html).toContain('id="date-on-trouble"');
    expect((await rows('job'))[0]!.received_on).toBe('2026-03-01');
  });

  test('that is not there says so', async () => {
    expect((await screen.get('/jobs/none')).status).toBe(404);
    expect((await screen.post('/jobs/none/hand-over', { handed_over_on: '2026-03-01' })).status).toBe(404);
    expect((await screen.post('/jobs/none/date', { which: 'received', on: '2026-03-01' })).status).toBe(404);
  });
});

const FILE = [
  'job number,name,phone,email,consent,handed over on,lens design,first multifocal',
  '1,Ida Quill,202 555 0117,,text,2026-02-27,soft 15,yes',
  '2,Otto Lind,202 555 0118,,text,2026-02-27,soft 15,maybe',
  '3,Greta Lind,202 555 0118,,no,,short 11,no',
  ',,,,,,,',
  '4,,202 555 0119,,text,27/02/2027,soft 15,yes',
].join('\r\n');

const csv = (text: string) => new File([text], 'jobs.csv', { type: 'text/csv' });

describe('a file of jobs', () => {
  test('is only looked at first: what is new, and every bad place with line, column, found and mend', async () => {
    const done = await screen.post('/deliveries/import', {
      step: 'check',
      file: csv(FILE),
      date_order: 'ymd',
    });
    const page = seen(done.html);
    expect(page).toContain('jobs.csv: looked at, not taken in yet');
    expect(page).toContain('2 new, of them 1 never to be messaged');
    expect(page).toMatch(/3 “first multifocal” \(H\) maybe yes, no, or empty .*Write yes or no\./);
    expect(page).toMatch(/6 “name” \(B\)/);
    expect(page).toMatch(/6 “handed over on” \(F\) 27\/02\/2027/);
    expect(await rows('job')).toHaveLength(0);
  });

  test('is then taken in by its good lines; the same file twice changes nothing', async () => {
    const take = { step: 'take', checked_text: FILE, date_order: 'ymd' };
    const first = await screen.post('/deliveries/import', take);
    expect(seen(first.html)).toContain('2 new jobs, 0 changed, 0 there already, 2 refused');
    const before = {
      jobs: await rows('job'),
      checkIns: await rows('check_in'),
      consent: await rows('consent_event'),
    };
    const second = await screen.post('/deliveries/import', take);
    expect(seen(second.html)).toContain('0 new jobs, 0 changed, 2 there already, 2 refused');
    expect({
      jobs: await rows('job'),
      checkIns: await rows('check_in'),
      consent: await rows('consent_event'),
    }).toEqual(before);
    const looked = await screen.post('/deliveries/import', {
      step: 'check',
      pasted: FILE,
      date_order: 'ymd',
    });
    expect(seen(looked.html)).toContain('There is nothing in it to take in.');
  });

  test('changes a job that is there only where it was ticked, and never who it is or how they are reached', async () => {
    await screen.post('/deliveries/import', { step: 'take', checked_text: FILE, date_order: 'ymd' });
    const other = FILE.replace(
      'Ida Quill,202 555 0117,,text,2026-02-27,soft 15',
      'Ida Quill,202 555 0199,,text,2026-02-28,short 11',
    );
    const looked = await screen.post('/deliveries/import', {
      step: 'check',
      pasted: other,
      date_order: 'ymd',
    });
    const page = seen(looked.html);
    expect(page).toContain('1 would change');
    expect(page).toContain('Lens design from soft 15 to short 11');
    expect(page).toContain(
      'Mobile phone (not from a file: mend it by hand) from +12025550117 to +12025550199',
    );
    const take = { step: 'take', checked_text: other, date_order: 'ymd' };
    await screen.post('/deliveries/import', take);
    expect(seen((await screen.get('/deliveries?show=all')).html)).toContain('first multifocal, soft 15');
    const done = await screen.post('/deliveries/import', { ...take, change_line: ['2'] });
    expect(seen(done.html)).toContain('1 changed');
    const list = seen((await screen.get('/deliveries?show=all')).html);
    expect(list).toContain('first multifocal, short 11');
    expect(list).toContain('handed over Sat 28 Feb');
    expect((await rows('pair'))[0]!.first_worn_on).toBe('2026-02-28');
    const numbers = await screen.shell.db.selectFrom('contact_point').select('address').execute();
    expect(numbers.map((row) => row.address).sort()).toEqual(['+12025550117', '+12025550118']);
    const again = await screen.post('/deliveries/import', { ...take, change_line: ['2'] });
    expect(seen(again.html)).toContain('0 changed');
  });

  test('without a known heading says what to do about the whole file', async () => {
    const done = await screen.post('/deliveries/import', {
      step: 'check',
      pasted: 'x,y\n1,2',
      date_order: 'ymd',
    });
    expect(seen(done.html)).toContain('The first line holds no column head that is known.');
    const nothing = await screen.post('/deliveries/import', { step: 'check', pasted: '', date_order: 'ymd' });
    expect(seen(nothing.html)).toContain('Nothing was given.');
  });

  test('may be JSON', async () => {
    const text = JSON.stringify([{ job_number: '7', name: 'Ida Quill', lens_design: 'soft 15' }]);
    const done = await screen.post('/deliveries/import', {
      step: 'take',
      checked_text: text,
      date_order: 'ymd',
    });
    expect(seen(done.html)).toContain('1 new job');
  });

  test('that has the words of a web page in it stays text', async () => {
    const text = FILE.replace('Otto Lind', '<img src=x onerror=alert(1)>').replace('maybe', '<b>x</b>');
    const done = await screen.post('/deliveries/import', { step: 'check', pasted: text, date_order: 'ymd' });
    expect(done.html).not.toContain('<img src=x');
    expect(done.html).not.toContain('<b>x</b>');
  });

  test('can be begun from a template whose heads are all known', async () => {
    for (const path of ['/deliveries/template.csv', '/deliveries/template-full.csv']) {
      const { html, status } = await screen.get(path);
      expect(status).toBe(200);
      const done = await screen.post('/deliveries/import', {
        step: 'check',
        pasted: html,
        date_order: 'ymd',
      });
      expect(seen(done.html), path).toContain('There is no line in it beside the heading.');
      expect(seen(done.html), path).not.toContain('not known');
    }
  });
});

describe('the list of deliveries', () => {
  test('goes on to the next page and back, without losing or doubling a job', async () => {
    const lines = Array.from({ length: 120 }, (_, n) => `${n + 1},Wearer ${n + 1},,,,,soft 15,yes`);
    const text = [FILE.split('\r\n')[0], ...lines].join('\n');
    await screen.post('/deliveries/import', { step: 'take', checked_text: text, date_order: 'ymd' });
    const seenJobs: string[] = [];
    let path: string | undefined = '/deliveries';
    let last = '';
    const ranges: string[] = [];
    while (path) {
      last = (await screen.get(path)).html;
      seenJobs.push(...[...last.matchAll(/<a href="\/jobs\/([\w-]+)" data-open/g)].map((one) => one[1]!));
      ranges.push(/(\d+–\d+ of [^<]*?)\s/.exec(last)?.[1] ?? '');
      path = /<a href="(\/deliveries\?[^"]+)">more/.exec(last)?.[1]?.replaceAll('&amp;', '&');
    }
    expect(new Set(seenJobs).size).toBe(120);
    expect(seenJobs).toHaveLength(120);
    expect(ranges).toEqual(['1–50 of 120', '51–100 of 120', '101–120 of 120']);
    const before = /<a href="(\/deliveries\?[^"]+)">before/.exec(last)?.[1]?.replaceAll('&amp;', '&');
    const back = (await screen.get(before!)).html;
    expect(back).toContain('51–100 of 120');
    expect(back).toContain(`/jobs/${seenJobs[50]}`);
  });

  test('finds by the beginning of a name, its last word, a number or a whole telephone number', async () => {
    await typeIn();
    await typeIn({ job_number: '9', name: 'Otto Lind', phone: '202 555 0118', email: '' });
    for (const q of ['ida q', 'QUILL', '207', '202-555-0117', 'ida@example.org']) {
      const list = seen((await screen.get(`/deliveries?q=${encodeURIComponent(q)}`)).html);
      expect(list, q).toContain('Ida Quill');
      expect(list, q).not.toContain('Otto Lind');
    }
    expect(seen((await screen.get('/deliveries?q=%25')).html)).toContain('No job found');
  });
});
