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

  test('w writes, Tab goes to Send, Enter sends, and there is a way back', async () => {
    const { page } = visit();
    await page.keyboard.press('w');
    await page.keyboard.type('Could you come by on Friday?');
    for (let step = 0; step < 4 && (await focused()) !== 'Send'; step += 1) await page.keyboard.press('Tab');
    expect(await focused()).toBe('Send');
    await page.keyboard.press('Enter');
    const sent = page.locator('li.out', { hasText: 'Could you come by on Friday?' });
    await sent.waitFor();
    // In the first ten seconds the one, later the other; which of them hangs on how fast the machine is.
    expect(await sent.innerText()).toMatch(/Take it back|It has left|Send a correction/);
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
