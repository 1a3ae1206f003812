import { expect, test } from 'vitest';
import { picture } from './browser.ts';
import { journey } from './visit.ts';

/* The README's first five minutes, as a new user walks them. */

const PHONE = '+1 202-555-0142';

journey('the first five minutes', (visit) => {
  test('the bench of the invented shop opens, and says that nothing is real', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/`);
    expect(await page.title()).toContain('Lantern Street Opticians (invented)');
    expect(await page.getByText('nothing here is real').isVisible()).toBe(true);
    await picture(page, 'bench');
  });

  test('a job is typed in', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/deliveries`);
    await picture(page, 'deliveries');
    await page.goto(`${visit().address}/deliveries/new`);
    const today = (await page.locator('time').first().getAttribute('datetime'))!.slice(0, 10);
    await page.locator('[name=job_number]').fill('A-5001');
    await page.locator('[name=name]').fill('Greta Winslow');
    await page.locator('[name=phone]').fill(PHONE);
    await page
      .locator('select[name=consent], [name=consent]')
      .first()
      .selectOption('text')
      .catch(() => page.locator('[name=consent]').fill('text'));
    await page.locator('[name=handed_over_on]').fill(today);
    await page.locator('[name=lens_design]').fill('soft 15');
    await picture(page, 'new-job');
    await page.locator('main form button[type=submit]').last().click();
    await page.waitForLoadState();
    expect(await page.locator('main').innerText()).toContain('A-5001');
    await picture(page, 'job');
  });

  test('the clock is moved to the question of day 3, and the wearer answers in her own words', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/wearers?q=Greta`);
    await picture(page, 'wearers');
    for (let step = 0; step < 60; step += 1) {
      await page.goto(`${visit().address}/rehearsal`);
      const phone = page.locator('section.handset', { hasText: 'Greta Winslow' });
      if ((await phone.count()) > 0 && (await phone.innerText()).includes('1 seeing well')) break;
      await page.getByRole('button', { name: 'To the next thing due' }).click();
      await page.waitForLoadState();
    }
    const phone = page.locator('section.handset', { hasText: 'Greta Winslow' });
    expect(await phone.innerText()).toContain('1 seeing well');
    await phone.locator('input[name=text]').fill('I have to lift my chin right up to read anything');
    await picture(page, 'rehearsal');
    await phone.getByRole('button', { name: 'Send' }).click();
    await page.waitForLoadState();
    await page.getByRole('button', { name: '10 minutes on' }).click();
    await page.waitForLoadState();
    const answered = page.locator('section.handset', { hasText: 'Greta Winslow' });
    expect(await answered.innerText()).toContain('Someone here will look at this');
  });

  test('the bench shows her words, the leading cause with a share, and the next act; a measured number moves the causes', async () => {
    const { page } = visit();
    await page.goto(`${visit().address}/bench`);
    const row = page.locator('ol.rows > li', { hasText: 'Greta Winslow' });
    expect(await row.innerText()).toContain('lift my chin right up');
    expect(await row.innerText()).toMatch(/in 10/);
    await picture(page, 'bench-with-case');
    await row.locator('a').first().click();
    await page.waitForLoadState();
    await picture(page, 'case');
    await page.locator('#fact-key').selectOption('cross_above_pupil_mm');
    await page.locator('#fact-eye').selectOption('');
    await page.locator('#fact-value').fill('-2');
    await page.locator('form.fact-form button[type=submit]').click();
    await page.waitForLoadState();
    const causes = page.locator('section', { has: page.getByRole('heading', { name: 'Probably' }) }).first();
    expect(await causes.innerText()).toMatch(/fitting cross too low/i);
    await picture(page, 'case-measured');
    await page.goto(`${visit().address}/tray`);
    await picture(page, 'tray');
  });
});
