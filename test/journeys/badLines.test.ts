import { expect, test } from 'vitest';
import { journey } from './visit.ts';

/* A file with bad lines: each is told, the good ones go in, the bad one is mended on the page. */

const FILE = `job number,name,phone,consent,handed over on,lens design
B-701,Edda Roe,202-555-0171,text,11/20/2026,soft 15
B-702,Lars Kell,202-555-0172,text,02/31/2026,soft 15
B-703,Mina Stow,12,text,11/20/2026,soft 15
`;

journey('a file of jobs with bad lines', (visit) => {
  test('looked at first: nothing is taken in, each bad line is told with its column and how to mend it', async () => {
    const { page, go, press, main } = visit();
    await go('/deliveries/import');
    await page.locator('#import-pasted').fill(FILE);
    await press('Look at it');
    const text = await main();
    expect(text).toContain('not taken in yet');
    expect(text).toContain('02/31/2026');
    expect(text).toMatch(/“phone” \(C\)\s+12\s/);
    expect(text).toMatch(/1 new/);
    await go('/deliveries?q=B-701');
    expect(await page.locator('main a[href^="/jobs/"]').count()).toBe(0);
  });

  test('taken in: the good line is a job, and what was bad stays to be mended', async () => {
    const { page, go, main } = visit();
    await go('/deliveries/import');
    await page.locator('#import-pasted').fill(FILE);
    await visit().press('Look at it');
    await page.locator('form:has(input[name=step][value=take]) button[type=submit]').first().click();
    await page.waitForLoadState();
    expect(await main()).toMatch(/taken in/);
    await go('/deliveries?q=B-701');
    expect(await main()).toContain('Edda Roe');
    await go('/deliveries?q=B-702');
    expect(await main()).not.toContain('Lars Kell');
  });
});
