import { expect, test } from 'vitest';
import { journey } from './visit.ts';

/* The owner asks how the designs do: each number says how sure it is, and opens the pairs that it counts. */

journey('the owner reads Lens designs', (visit) => {
  test('rates stand with their interval, and a number opens its pairs', async () => {
    const { page, go, main } = visit();
    await go('/lens-designs');
    expect(await main()).toMatch(/soft 15/);
    expect(await main()).toMatch(/\d+ of \d+/);
    const number = page.locator('main a[href*="/lens-designs/pairs"]').first();
    await number.click();
    await page.waitForURL(/pairs/);
    expect(await page.locator('main a[href^="/jobs/"]').count()).toBeGreaterThan(0);
  });

  test('the month sheet is one page to print', async () => {
    const { page, go } = visit();
    await go('/lens-designs');
    await page.getByRole('link', { name: /month/i }).first().click();
    await page.waitForLoadState();
    expect(await page.locator('h1').innerText()).not.toBe('');
  });
});
