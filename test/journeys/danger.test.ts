import { expect, test } from 'vitest';
import { journey } from './visit.ts';

/* From the words of a wearer in danger to "I have it" and a closed case. */

journey('an urgent reply', (visit) => {
  test('comes in by text and stands in front of everything on the bench', async () => {
    const { page, go, press } = visit();
    await go('/rehearsal');
    await go((await page.locator('a[href*="hold="]', { hasText: 'Agnes Bell' }).getAttribute('href'))!);
    const phone = page.locator('section.handset', { hasText: 'Agnes Bell' });
    await phone
      .locator('input[name=text]')
      .fill('a grey curtain has come across my right eye since this morning');
    await press('Send', 'section.handset:has-text("Agnes Bell")');
    await go('/bench');
    const first = page.locator('.danger', { hasText: 'Agnes Bell' });
    expect(await first.innerText()).toContain('grey curtain');
    expect(await page.locator('dl.answers').innerText()).toContain('nobody is on it yet');
    expect(await page.title()).toContain('(!)');
  });

  test('“I have it” tells everybody who has it', async () => {
    const { page, press, main } = visit();
    await press(/I have it/, '.danger:has-text("Agnes Bell")');
    expect(await main()).toMatch(/You have it\. Ring now/);
    await visit().go('/bench');
    expect(await page.locator('.danger', { hasText: 'Agnes Bell' }).innerText()).toContain('has it');
  });

  test('what was said on the telephone is written down, and the case is closed', async () => {
    const { page, go, press, main } = visit();
    await go('/bench');
    await page.getByRole('link', { name: 'Agnes Bell' }).first().click();
    await page.waitForURL(/\/cases\//);
    await page.getByText('They said it on the phone or at the counter').click();
    await page.locator('#heard-text').fill('seen at the eye clinic today, they are looking after it');
    await press('Keep', 'form[action$="/heard"]');
    await page.locator('details.close', { hasText: 'Close' }).last().locator('summary').click();
    await page.locator('#close-outcome').selectOption('kept, not happy');
    await press('Close', 'form[action$="/close"]');
    expect(await main()).toContain('The case is closed');
    await go('/bench');
    expect(await page.locator('.danger', { hasText: 'Agnes Bell' }).count()).toBe(0);
  });
});
