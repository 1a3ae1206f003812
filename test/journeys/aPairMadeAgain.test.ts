import { expect, test } from 'vitest';
import { picture } from './browser.ts';
import { journey } from './visit.ts';

/* One pair through the shop: typed in, checked on the bench, handed over, rung about, made again, credited by the lab. */

const PHONE = '202-555-0143';

journey('a pair that is made again', (visit) => {
  const main = () => visit().main();
  const press = async (name: string | RegExp, within = visit().page.locator('main')) => {
    await within.getByRole('button', { name }).first().click();
    await visit().page.waitForLoadState();
  };

  test('typed in with its lab and powers, it is checked against what the lab made it to', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/deliveries/new`);
    const fields = {
      job_number: 'A-6001',
      name: 'Ivo Hale',
      phone: PHONE,
      lens_design: 'soft 15',
      lab: 'Lab in the next town (invented)',
      order_R: '+1.00',
      order_L: '+1.25',
      as_worn_R: '+1.00',
      as_worn_L: '+1.25',
      read_R: '+1.06',
      read_L: '+1.25',
    };
    for (const details of await page.locator('main details').all())
      await details.evaluate((one) => one.setAttribute('open', ''));
    for (const [name, value] of Object.entries(fields)) await page.locator(`[name="${name}"]`).fill(value);
    await press('Take in the job');
    expect(await main()).toContain('Bench check');
    expect(await main()).toMatch(/0\.06 D|\+1\.06/);
    await picture(page, 'made-again-job');
  });

  test('handed over with consent asked in the words on the page', async () => {
    const { page } = visit();
    await page.locator('input[name=consent_text][value=given]').check();
    await press('Handed over');
    expect(await main()).toContain('texts yes');
    expect(await main()).toContain('Hand-over sheet');
  });

  test('he rings in: found by the last figures of his number, what he says is typed into the call sheet', async () => {
    const { page } = visit();
    await page.locator('body').press('/');
    await page.keyboard.type('0143');
    await page.keyboard.press('Enter');
    await page.waitForLoadState();
    await page.waitForURL(/\/find/);
    const hit = page.locator('main li', { hasText: 'Ivo Hale' });
    await hit.getByRole('link', { name: /Call sheet/ }).click();
    await page.waitForLoadState();
    await picture(page, 'call-sheet');
    await page.locator('input[name=answer][value="1"]').check();
    await press('Spoke: keep it');
    expect(await main()).toContain('Written down and read like any reply.');
  });

  test('made again at the lab’s cost without a case, the bench wants the lab asked', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/deliveries?q=A-6001`);
    await page
      .getByRole('link', { name: /A-6001/ })
      .first()
      .click();
    await page.waitForLoadState();
    await page.getByText('Make it again without a case').click();
    await page.locator('#remake-reason').selectOption('finish or breakage');
    await page.locator('#remake-borne').selectOption('the lab');
    await press('Make again');
    expect(await main()).toContain('Job A-6001 again');
    await page.goto(`${visit().address}/bench`);
    // The invented shop may have others that wait for the same.
    expect(await main()).toMatch(/(A-6001 was|pairs were) made again at the lab’s cost/);
  });

  test('asked, sent back, promised, credited', async () => {
    const { page } = visit();
    await page.getByRole('link', { name: /made again at the lab’s cost/ }).click();
    await page.waitForLoadState();
    const line = () => page.locator('li', { hasText: 'Ivo Hale' });
    const note = async (step: string, amount = '') => {
      await line().locator('select[name=what]').selectOption(step);
      await line().locator('input[name=amount]').fill(amount);
      await press(/Note it/, line());
    };
    await note('asked');
    await note('sent');
    await note('promised', '42');
    await picture(page, 'claims');
    await note('credited', '42');
    expect(await line().innerText()).toContain('credited 42.00');
  });

  test('the shop’s books are there: lens book, shop, people, ring list', async () => {
    const { page } = visit();
    for (const path of ['lens-book', 'shop', 'people', 'ring-list']) {
      await page.goto(`${visit().address}/${path}`);
      expect(await page.locator('main h1').innerText()).not.toBe('');
      await picture(page, path);
    }
  });
});
