import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { browserMissing, launch } from './browser.ts';

/** A page may move under the reader's eyes by so much (cumulative layout shift). */
const MOST_SHIFT = 0.02;

export type Visit = {
  readonly page: Page;
  readonly address: string;
  /** A second screen beside the first: a telephone. */
  phone(): Promise<Page>;
  go(path: string): Promise<void>;
  main(): Promise<string>;
  press(name: string | RegExp, within?: string): Promise<void>;
};

const DESK: BrowserContextOptions = { viewport: { width: 1280, height: 800 } };
const PHONE: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true };

/** Walks one journey in a real browser; its last test is that the browser complained of nothing and no page jumped. */
export function journey(title: string, walk: (visit: () => Visit) => void): void {
  describe.skipIf(browserMissing())(title, () => {
    let browser: Browser;
    let visit: Visit;
    const trouble: string[] = [];
    let shift = 0;
    const open = async (how: BrowserContextOptions): Promise<Page> => {
      const page = await (await browser.newContext(how)).newPage();
      page.setDefaultTimeout(30_000);
      page.on('pageerror', (error) => trouble.push(error.message));
      page.on('console', (message) => {
        if (message.type() === 'error') trouble.push(`${page.url()}: ${message.text()}`);
      });
      await page.exposeBinding('noteShift', ({ page: at }, by: number) => {
        shift = Math.max(shift, by);
        if (by > MOST_SHIFT) trouble.push(`${at.url()} jumped by ${by.toFixed(3)}`);
      });
      await page.addInitScript(() => {
        let sum = 0;
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries() as (PerformanceEntry & {
            value: number;
            hadRecentInput: boolean;
          })[]) {
            if (entry.hadRecentInput) continue;
            sum += entry.value;
            (globalThis as unknown as { noteShift(by: number): void }).noteShift(sum);
          }
        }).observe({ type: 'layout-shift', buffered: true });
      });
      return page;
    };
    beforeAll(async () => {
      browser = await launch();
      const page = await open(DESK);
      const address = inject('address');
      visit = {
        page,
        address,
        phone: () => open(PHONE),
        async go(path) {
          await page.goto(path.startsWith('http') ? path : `${address}${path}`);
        },
        main: () => page.locator('main').innerText(),
        async press(name, within = 'main') {
          await page.locator(within).getByRole('button', { name }).first().click();
          await page.waitForLoadState();
        },
      };
    });
    afterAll(async () => {
      await browser?.close();
    });
    walk(() => visit);
    test('the browser had nothing to complain of, and no page moved under the eyes', () => {
      expect(trouble).toEqual([]);
      expect(shift).toBeLessThanOrEqual(MOST_SHIFT);
    });
  });
}
