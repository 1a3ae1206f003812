import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hostStories, STORIES_AT } from '../dashboard/storyHost.ts';
import { browserMissing, launch } from './browser.ts';

/* What is printed: one sheet each on A4 and Letter, black on white, without what only a screen needs. */

const SHEETS = [
  'order-note-draft',
  'order-note-signed',
  'bench-slip',
  'hand-over-sheet',
  'box-card',
  'prescriber-note',
  'month-sheet',
  'measure-sheet',
];
const PX_PER_MM = 96 / 25.4;
/** A4 (ISO 216) and Letter (ANSI/ASME Y14.1) less the margins of 12 mm: the narrower width. */
const ROOM_MM = 210 - 2 * 12;
/** A6 lying, ISO 216. */
const CARD_MM = { width: 148, height: 105 };

describe.skipIf(browserMissing())('printed', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await launch();
    // Who works in the dark prints on white paper all the same.
    const context = await browser.newContext({ colorScheme: 'dark' });
    await hostStories(context);
    page = await context.newPage();
    await page.setViewportSize({ width: Math.round(ROOM_MM * PX_PER_MM), height: 1000 });
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  });
  afterAll(() => browser?.close());

  test.each(SHEETS)('%s: no way back, no button, no menu; nothing cut off; black on white', async (name) => {
    await page.goto(`${STORIES_AT}/${name}`);
    const screenOnly = page.locator(
      'button:not(.term), .button, nav, .no-print, .meaning, select, input:not([type=hidden])',
    );
    expect(await screenOnly.filter({ visible: true }).allInnerTexts()).toEqual([]);
    expect(await page.locator('h1').isVisible()).toBe(true);
    const room = Math.round(ROOM_MM * PX_PER_MM);
    const tooWide = await page.evaluate(
      (most) =>
        [...document.querySelectorAll('main *')]
          .filter((node) => node.getBoundingClientRect().right > most + 1)
          .map((node) => node.outerHTML.slice(0, 80)),
      room,
    );
    expect(tooWide).toEqual([]);
    const body = await page.evaluate(() => {
      const { color, backgroundColor } = getComputedStyle(document.body);
      return { color, backgroundColor };
    });
    expect(body).toEqual({ color: 'rgb(0, 0, 0)', backgroundColor: 'rgb(255, 255, 255)' });
  });

  test.each(SHEETS)('%s: one sheet on A4 and on Letter', async (name) => {
    await page.goto(`${STORIES_AT}/${name}`);
    for (const format of ['A4', 'Letter']) {
      const pdf = (await page.pdf({ format, preferCSSPageSize: true })).toString('latin1');
      expect(pdf.match(/\/Type\s*\/Page\b/g), format).toHaveLength(1);
    }
  });

  test('the box card is 148 by 105 mm, all of it', async () => {
    await page.goto(`${STORIES_AT}/box-card`);
    const card = (await page.locator('.paper.card').boundingBox())!;
    expect(card.width / PX_PER_MM).toBeCloseTo(CARD_MM.width, 0);
    expect(card.height / PX_PER_MM).toBeCloseTo(CARD_MM.height, 0);
  });
});
