import { expect, test } from 'vitest';
import { journey } from './visit.ts';

/* From the bench to a message and back, without a mouse. */

journey('by keyboard alone', (visit) => {
  const focused = () => visit().page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');

  test('? lists the keys, and Escape closes the list', async () => {
    const { page, go } = visit();
    await go('/bench');
    await page.keyboard.press('?');
    expect(await page.locator('#keys').getAttribute('open')).not.toBeNull();
    expect(await page.locator('#keys').innerText()).toContain('next row, row before');
    await page.keyboard.press('Escape');
    expect(await page.locator('#keys').getAttribute('open')).toBeNull();
  });

  test('j walks the rows, Enter opens the case', async () => {
    const { page } = visit();
    await page.keyboard.press('j');
    const one = await focused();
    await page.keyboard.press('j');
    const other = await focused();
    expect(other).not.toBe(one);
    await page.keyboard.press('k');
    expect(await focused()).toBe(one);
    await page.keyboard.press('j');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/cases\//);
  });

  test('w writes, Tab goes to Send, Enter sends; u and Enter take it back within its ten seconds', async () => {
    const { page, go } = visit();
    // The second row may be of somebody who cannot be written to.
    await go('/bench');
    await page.getByRole('link', { name: 'Hugo Marsh' }).first().focus();
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/cases\//);
    const sent = page.locator('li.out', { hasText: 'Could you come by on Friday?' });
    const before = await sent.count();
    const pressed = page.locator('.notices', { hasText: /it was not sent|It has left already/ });
    let told = '';
    // A machine that is busy may let the ten seconds pass: then it is written once more.
    for (let turn = 0; turn < 4 && !told.includes('not sent'); turn += 1) {
      await page.keyboard.press('w');
      await page.keyboard.type('Could you come by on Friday?');
      for (let step = 0; step < 4 && (await focused()) !== 'Send'; step += 1)
        await page.keyboard.press('Tab');
      expect(await focused()).toBe('Send');
      await page.keyboard.press('Enter');
      await sent.nth(before + turn).waitFor();
      await page.waitForLoadState();
      await page.keyboard.press('u');
      if (!(await focused()).startsWith('Take it back')) continue;
      await page.keyboard.press('Enter');
      await pressed.waitFor();
      told = await pressed.innerText();
    }
    expect(told).toContain('Taken back: it was not sent.');
    expect(await sent.last().innerText()).toContain('taken back by');
  });

  test('/ finds by name, g and a letter goes to a page', async () => {
    const { page } = visit();
    await page.keyboard.press('/');
    await page.keyboard.type('Ruth');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/find/);
    expect(await visit().main()).toContain('Ruth Calder');
    await page.keyboard.press('g');
    await page.keyboard.press('t');
    await page.waitForURL(/\/tray/);
  });

  test('a trade word tells its plain sentence on focus', async () => {
    const { page, go } = visit();
    await go('/bench');
    await page.getByRole('link', { name: 'Hugo Marsh' }).first().click();
    await page.waitForURL(/\/cases\//);
    const term = page.locator('main button.term').filter({ visible: true }).first();
    const width = async () => (await term.locator('.meaning').boundingBox())?.width ?? 0;
    expect(await width()).toBeLessThan(2);
    await term.focus();
    expect(await width()).toBeGreaterThan(200);
  });
});
