import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { picture } from './browser.ts';
import { journey } from './visit.ts';

/* A wearer's telephone: the link in a letter, one tap, own words with a photo, no more letters; and what the shop then sees. */

const WEARER = 'Olga Quill';
const SAID = 'the lines of my book swim at both sides';
/** Smallest side of what a finger taps (WCAG 2.2, 2.5.5, target size enhanced). */
const FINGER_PX = 44;

journey('a wearer answers on a phone', (visit) => {
  let phone: Page;
  const letters: { answer: string; stop: string } = { answer: '', stop: '' };
  const heading = () => phone.locator('h1').innerText();
  const asking = async () => {
    const { page, go } = visit();
    await go('/rehearsal');
    const other = page.locator('a[href*="hold="]', { hasText: `${WEARER} (email)` });
    if ((await other.count()) > 0) await go((await other.first().getAttribute('href'))!);
    return page
      .locator('section.mailbox', { hasText: WEARER })
      .locator('li', { hasText: 'Answer with one tap' });
  };
  const hers = async () => {
    const { page, go } = visit();
    await go(`/find?q=${encodeURIComponent(WEARER)}`);
    await page.locator('main').getByRole('link', { name: WEARER, exact: true }).click();
    await page.waitForURL(/\/wearers\//);
  };
  /** Nothing to be pushed sideways, nothing too small for a finger, nothing that axe finds. */
  const fitsAHand = async () => {
    const wide = await phone.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    for (const target of await phone.locator('main button, a.button').all()) {
      expect((await target.boundingBox())!.height, await target.innerText()).toBeGreaterThanOrEqual(
        FINGER_PX,
      );
    }
    const found = await new AxeBuilder({ page: phone }).analyze();
    expect(found.violations.map((one) => one.help)).toEqual([]);
  };

  test('her pair is handed over, and in some days a letter asks how it goes, with a link to answer and one to stop', async () => {
    const { page, go, press, main } = visit();
    await go('/deliveries/new');
    const today = (await page.locator('time').first().getAttribute('datetime'))!.slice(0, 10);
    await page.locator('[name=job_number]').fill('A-5003');
    await page.locator('[name=name]').fill(WEARER);
    await page.locator('[name=email]').fill('olga.quill@example.net');
    await page.locator('[name=consent]').selectOption('email');
    await page.locator('[name=handed_over_on]').fill(today);
    await page.locator('[name=lens_design]').fill('soft 15');
    await press('Take in the job');
    expect(await main()).toContain('A-5003');
    let asked = await asking();
    for (let step = 0; step < 60 && (await asked.count()) === 0; step += 1) {
      await press('To the next thing due');
      asked = await asking();
    }
    const links = await asked.last().locator('a[href^="/w/"]').all();
    expect(links).toHaveLength(2);
    letters.answer = (await links[0]!.getAttribute('href'))!;
    letters.stop = (await links[1]!.getAttribute('href'))!;
  });

  test('the link opens a page in large type with five answers; in her language with one tap', async () => {
    phone = await visit().phone();
    await phone.goto(`${visit().address}${letters.answer}`);
    expect(await heading()).toBe('How are your new glasses?');
    expect(await phone.locator('button[name=answer]').count()).toBe(5);
    const size = await phone
      .locator('main')
      .evaluate((main) => Number.parseFloat(getComputedStyle(main).fontSize));
    expect(size).toBeGreaterThanOrEqual(20);
    await fitsAHand();
    await picture(phone, 'wearer-asked');
    await phone.getByRole('link', { name: 'Español' }).click();
    await phone.waitForURL(/lang=es/);
    expect(await heading()).toBe('¿Qué tal sus lentes nuevos?');
    await fitsAHand();
    await phone.getByRole('link', { name: 'English' }).click();
    await phone.waitForURL(/lang=en/);
  });

  test('one tap answers', async () => {
    await phone.getByRole('button', { name: 'Something is not right' }).click();
    await phone.getByRole('heading', { name: 'Thank you' }).waitFor();
    await fitsAHand();
  });

  test('own words with a photo go the same way, and what was sent before is not shown again', async () => {
    await phone.goto(`${visit().address}${letters.answer}`);
    expect(await phone.locator('main').innerText()).toContain('We have an answer of yours');
    await phone.getByLabel('Or tell us in your own words').fill(SAID);
    await phone.getByLabel('A photo, if it helps').setInputFiles({
      name: 'book.jpg',
      mimeType: 'image/jpeg',
      buffer: await phone.screenshot({ type: 'jpeg' }),
    });
    await phone.getByRole('button', { name: 'Send' }).click();
    await phone.getByRole('heading', { name: 'Thank you' }).waitFor();
    await phone.goto(`${visit().address}${letters.answer}`);
    expect(await phone.locator('main').innerText()).not.toContain('swim');
  });

  test('in the shop: her words as she wrote them, read, with the picture and how they came', async () => {
    const { page } = visit();
    await hers();
    await page.locator('main a[href^="/cases/"]').first().click();
    await page.waitForURL(/\/cases\//);
    const entry = page.locator('.talk-list li.in', { hasText: 'swim at both sides' });
    expect(await entry.innerText()).toContain('on the page');
    expect(await entry.innerText()).toContain('read as:');
    const talk = await page.locator('.talk-list').innerText();
    expect(talk).toContain('read as: something is not right');
    expect(talk).toContain('[their link to answer]');
    const photo = entry.locator('img');
    await photo.scrollIntoViewIfNeeded();
    await expect
      .poll(() => photo.evaluate((image) => (image as HTMLImageElement).naturalWidth))
      .toBeGreaterThan(0);
    await picture(page, 'wearer-in-the-shop');
  });

  test('one tap and no more letters come; the shop sees it', async () => {
    await phone.goto(`${visit().address}${letters.stop}`);
    await fitsAHand();
    await phone.getByRole('button', { name: 'No more emails' }).click();
    expect(await phone.locator('main').innerText()).toContain('No more messages come');
    await picture(phone, 'wearer-stopped');
    await hers();
    expect(await visit().main()).toMatch(/stop|no more|withdrawn/i);
  });
});
