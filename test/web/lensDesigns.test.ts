import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { dayNumber } from '../../src/followup/finishedPairs.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import type { Database } from '../../src/store/database.ts';
import { keepSettings } from '../../src/store/shops.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

/** 200 days after the hand-overs below. */
const LATER = new Date('2026-09-18T15:00:00Z');

describe('lens designs', () => {
  let database: Database;
  let screen: Screen;
  beforeAll(async () => {
    database = await freshDatabase('embedded');
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    screen = await openScreen(database, LATER);
  });

  /** Invented pairs, all handed over on 2 March 2026; the first `back` were remade on day 20. */
  async function pairs(design: string, n: number, back: number, reason = 'settling', lab = 'Lab one') {
    const jobs = Array.from({ length: n }, (_, at) => ({
      jobNumber: `${design}-${at}`,
      wearer: {
        name: `Wearer ${design} ${at}`,
        phoneE164: '+12025550101',
        prefers: 'text' as const,
        locale: 'en' as const,
        zone: 'America/New_York',
      },
      consent: { given: false, channels: [], basis: 'test' },
      way: 'counter' as const,
      dates: { handedOverOn: '2026-03-02' },
      lensDesign: design,
      lab,
      firstMultifocal: true,
      facts: [],
    }));
    const { jobIds } = await takeJobs(screen.shell, SHOP, jobs, 'test');
    if (back === 0) return jobIds;
    const made = await database.db
      .selectFrom('pair')
      .select('pair_id')
      .where('job_id', 'in', jobIds.slice(0, back))
      .execute();
    await database.db
      .insertInto('outcome')
      .values(
        made.map(({ pair_id }) => ({
          shop_id: SHOP,
          pair_id,
          outcome: 'remade in the same design' as const,
          exchanged_to: null,
          reason,
          borne_by: 'the lab',
          cause: null,
          cause_how: null,
          on_day: '2026-03-22',
          by_name: 'Owner',
          at: LATER,
        })),
      )
      .execute();
    return jobIds;
  }

  const words = async (path: string) => seen((await screen.get(path)).html);
  const linksOf = (html: string, part: string) =>
    [...html.matchAll(/href="(\/lens-designs\/pairs\?[^"]*)"/g)]
      .map(([, href]) => href!.replaceAll('&amp;', '&'))
      .filter((href) => new URLSearchParams(href.split('?')[1]).get('part') === part);

  test('an empty shop is told what to do first, and nothing else is claimed', async () => {
    const page = await words('/lens-designs');
    expect(page).toContain('No pair has been handed over yet.');
    expect(page).toContain('First take jobs in and hand the glasses over');
    expect(page).toContain('Nothing this month is more than luck.');
    expect(page).not.toContain('More than luck?');
    expect(await words('/lens-designs/month')).toContain('Nothing this month is more than luck.');
    expect((await screen.get('/lens-designs.csv')).html.trim().split('\r\n')).toHaveLength(1);
  });

  test('19 ripe pairs are too few to say, 20 beside 20 others are judged', async () => {
    await pairs('alpha', 19, 5);
    await pairs('beta', 40, 0);
    const few = (await screen.get('/lens-designs')).html;
    const row = (html: string) => seen(/<tr><th scope="row"><a [^>]*>alpha[\s\S]*?<\/tr>/.exec(html)![0]);
    expect(row(few)).toContain('too few to say');
    expect(row(few)).not.toContain('26 %');
    screen = await openScreen(database, LATER);
    await pairs('alpha', 20, 6);
    await pairs('beta', 40, 0);
    const enough = (await screen.get('/lens-designs')).html;
    expect(row(enough)).not.toContain('too few to say');
    expect(row(enough)).toContain('worse than the rest');
  });

  test('settling-type reasons and all reasons are never in one row', async () => {
    await pairs('alpha', 30, 6, 'changed mind');
    await pairs('beta', 30, 3, 'settling');
    const alpha = async (reasons: string) =>
      seen(
        /<tr><th scope="row"><a [^>]*>alpha[\s\S]*?<\/tr>/.exec(
          (await screen.get(`/lens-designs?reasons=${reasons}`)).html,
        )![0],
      );
    expect(await alpha('settling')).toMatch(/alpha [a-z ]+ 30 0 /);
    expect(await alpha('all')).toMatch(/alpha [a-z ]+ 30 6 20 %/);
  });

  test('each number opens exactly the pairs behind it, by job number and without names', async () => {
    await pairs('alpha', 30, 9);
    await pairs('beta', 60, 1);
    const { html } = await screen.get('/lens-designs');
    const [href] = linksOf(html, 'group').filter((link) => link.includes('key=alpha'));
    const behind = await words(href!);
    expect(behind).toContain('9 pairs behind the number, of 30 that it is out of.');
    expect([...behind.matchAll(/alpha-\d+/g)]).toHaveLength(9);
    expect(behind).not.toContain('Wearer alpha');
    for (const part of ['causes', 'money', 'group', 'adapt'])
      for (const link of linksOf(html, part)) expect((await screen.get(link)).status, link).toBe(200);
    expect((await screen.get('/lens-designs/pairs?part=group&key=gamma')).status).toBe(404);
    expect((await screen.get('/lens-designs/pairs?part=none')).status).toBe(404);
  });

  test('the month sheet says what is more than luck in at most five sentences, names nobody, and opens its pairs', async () => {
    await pairs('alpha', 60, 24, 'settling', 'Lab one');
    await pairs('beta', 200, 4, 'settling', 'Lab two');
    const { html } = await screen.get('/lens-designs/month');
    const sheet = seen(html);
    expect(sheet).toContain('Design alpha: 24 of 60, 40 %');
    expect(sheet).not.toContain('Nothing this month');
    expect(sheet).not.toContain('Wearer');
    expect(
      [...html.matchAll(/<ol class="month-sentences">[\s\S]*<\/ol>/g)][0]![0].match(/<li>/g)!.length,
    ).toBeLessThanOrEqual(5);
    const links = linksOf((await screen.get('/lens-designs')).html, 'month');
    const opened = await Promise.all(links.map((link) => words(link)));
    expect(opened.some((page) => page.includes('24 pairs behind the number, of 60'))).toBe(true);
  });

  test('two designs side by side: difference, interval, and how many pairs more it takes', async () => {
    await pairs('alpha', 40, 4);
    await pairs('beta', 40, 2);
    const page = await words('/lens-designs?first=alpha&second=beta');
    expect(page).toMatch(
      /alpha 4 of 40, beta 2 of 40: 5\.0 points \(-?\d+\.\d to \d+\.\d\), no difference shown; to see/,
    );
    expect(page).toMatch(/it takes about [\d,]+ more pairs of alpha/);
    expect(await words('/lens-designs?first=alpha&second=alpha')).toContain('Choose two.');
  });

  test('money: what is empty is named and not counted; what is filled in adds up over the pairs back', async () => {
    await pairs('alpha', 30, 3);
    const empty = await words('/lens-designs');
    expect(empty).toContain(
      'lenses per remake, staff hours per return, staff cost per hour, postage per return',
    );
    expect(empty).toContain('Borne by the lab: 3 pairs of 3 back; the amount is not counted');
    await keepSettings(database.db, SHOP, { costs: { lensesPerRemake: 100, postagePerReturn: 5 } });
    const filled = await words('/lens-designs');
    expect(filled).toContain('Borne by the lab: 315.00 over 3 of 3 pairs back.');
    expect(filled).toContain('empty under Shop : staff hours per return, staff cost per hour');
  });

  test('our heights that run 1.5 mm high are said with interval and pairs, and a warning at order is offered', async () => {
    const jobIds = await pairs('alpha', 24, 0);
    const at = (job: number, key: string, value: number, source: string) => ({
      shop_id: SHOP,
      fact_id: `f-${job}-${key}`,
      job_id: jobIds[job]!,
      key,
      eye: key === 'measured' ? null : ('R' as const),
      value: JSON.stringify(key === 'measured' ? 'photo' : value),
      unit: 'mm',
      how: null,
      by_name: null,
      source,
      at: LATER,
    });
    await database.db
      .insertInto('fact')
      .values(
        jobIds.flatMap((_, job) => [
          at(job, 'measured', 0, 'order'),
          at(job, 'fitting_height_mm', 18, 'order'),
          at(job, 'cross_above_pupil_mm', 1.5 + (job % 3) * 0.1 - 0.1, 'bench'),
        ]),
      )
      .execute();
    const page = await words('/lens-designs');
    expect(page).toMatch(/Our photo heights run 1\.5 mm high \(1\.4 to 1\.6, 24 pairs\); spread 0\.1 mm\./);
    expect(page).toContain('Warn at order when a job is measured like this (photo)');
    expect(page).toContain('Mostly pairs in trouble are measured again');

    const said =
      'Fitting heights measured by photo have run 1.5 mm high here (1.4 to 1.6, 24 pairs measured again';
    expect(await words('/deliveries/new')).not.toContain('Our own measuring');
    const on = await screen.post('/lens-designs/warning', {
      what: 'fitting height',
      how: 'photo',
      on: 'yes',
    });
    expect(on.status).toBe(303);
    expect(seen(on.then!.html)).toContain('Stop warning at the order');
    expect(await words('/deliveries/new')).toContain(said);
    expect(await words(`/jobs/${jobIds[0]}`)).toContain(said);
    const other = await pairs('gamma', 1, 0);
    expect(await words(`/jobs/${other[0]}`)).not.toContain(said);
    const refused = await screen.post('/lens-designs/warning', {
      what: 'monocular PD',
      how: 'photo',
      on: 'yes',
    });
    expect(refused.status).toBe(409);
    await screen.post('/lens-designs/warning', { what: 'fitting height', how: 'photo', on: 'no' });
    expect(await words('/deliveries/new')).not.toContain(said);
    expect(await words(`/jobs/${jobIds[0]}`)).not.toContain(said);
  });

  test('every point of the pictures opens its pairs: groups, months, alarms and the baseline', async () => {
    await pairs('alpha', 160, 4);
    const later = await pairs('beta', 60, 30);
    await database.db
      .updateTable('pair')
      .set({ handed_over_on: '2026-04-02' })
      .where('job_id', 'in', later)
      .execute();
    await database.db.updateTable('outcome').set({ on_day: '2026-04-12' }).execute();
    const { html } = await screen.get('/lens-designs?by=month');
    const drift = linksOf(html, 'drift');
    expect(drift.some((href) => href.includes('key=baseline'))).toBe(true);
    const months = linksOf(html, 'group').filter((href) => href.includes('2026-04'));
    expect(months.length).toBeGreaterThan(0);
    for (const href of [...drift, months[0]!]) expect((await screen.get(href)).status).toBe(200);
    expect(await words(months[0]!)).toContain('30 pairs behind the number, of 60 that it is out of.');
  });

  test('the file has every grouping and both ways of counting, and no cell that a spreadsheet would run', async () => {
    await pairs('=1+1', 25, 1);
    await pairs('beta', 25, 1);
    const { html: csv } = await screen.get('/lens-designs.csv');
    const lines = csv.trim().split('\r\n');
    expect(lines[0]).toContain('by,group,counted');
    expect(lines.filter((line) => line.startsWith('lens design,'))).toHaveLength(4);
    expect(
      lines.some((line) => line.startsWith("lens design,'=1+1,settling-type reasons,25,25,1,,4.00,")),
    ).toBe(true);
    expect(new Set(lines.slice(1).map((line) => line.split(',')[0])).size).toBe(12);
  });

  test('pairs count from the shop’s own calendar day: ripe after 60 days, not after 59', async () => {
    await pairs('alpha', 25, 0);
    expect(dayNumber('2026-05-01') - dayNumber('2026-03-02')).toBe(60);
    screen.clock.moveTo(new Date('2026-05-01T03:00:00Z'));
    expect(await words('/lens-designs')).toContain('none out for 60 days or longer');
    screen.clock.moveTo(new Date('2026-05-01T05:00:00Z'));
    expect(await words('/lens-designs')).toContain('25 out for 60 days or longer');
  });
});
