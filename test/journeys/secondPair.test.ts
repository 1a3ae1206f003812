import { expect, test } from 'vitest';
import { journey } from './visit.ts';

/* "I have to lift my chin to read", a signed order note, and the second pair with the wearer. */

journey('a reading part that sits too low', (visit) => {
  test('the order note says what changes from what to what, and a licensed person signs it', async () => {
    const { page, go, press, main } = visit();
    await go('/bench');
    await page.getByRole('link', { name: 'Hugo Marsh' }).first().click();
    await page.waitForURL(/\/cases\//);
    expect(await page.locator('.talk-list').innerText()).toContain('lift my chin');
    await page.getByRole('link', { name: /Order note for a remake/ }).click();
    await page.waitForURL(/\/remake/);
    expect(await main()).toMatch(/Fitting height.*mm to .*mm/s);
    await press('Sign');
    expect(await main()).toMatch(/Signed by Ada Example/);
    expect(await main()).toMatch(/again is drafted/);
  });

  test('the drafted job is handed over, and the case goes on with the second pair', async () => {
    const { page, go, press, main } = visit();
    await page.getByRole('link', { name: /again is drafted/ }).click();
    await page.waitForURL(/\/jobs\//);
    await press('Handed over');
    expect(await main()).toMatch(/Hand-over sheet/);
    await go('/bench');
    await page.getByRole('link', { name: 'Hugo Marsh' }).first().click();
    await page.waitForURL(/\/cases\//);
    expect(await main()).toContain('the second pair is with the wearer');
  });
});
