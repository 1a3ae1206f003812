import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hostStories, STORIES_AT } from '../dashboard/storyHost.ts';
import { browserMissing, launch } from './browser.ts';

/* What must be seen without scrolling: three answers on the bench, the whole of a case; and the order of a case on a phone. */

const DESK = { width: 1280, height: 800 };
/** Sizes and place of the three answers. Common practice, no source. */
const ANSWER_PX = 24;
const FIRST_PART = 0.4;

describe.skipIf(browserMissing())('at a glance', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await launch();
    const context = await browser.newContext({ viewport: DESK });
    await hostStories(context);
    page = await context.newPage();
  });
  afterAll(() => browser?.close());

  const open = async (name: string, size = DESK) => {
    await page.setViewportSize(size);
    await page.goto(`${STORIES_AT}/${name}`);
  };
  const ends = async (selector: string) => {
    const box = await page.locator(selector).first().boundingBox();
    expect(box, selector).not.toBeNull();
    return box!.y + box!.height;
  };
  const starts = async (selector: string) => (await page.locator(selector).first().boundingBox())!.y;

  test.each([
    [
      'bench-quiet',
      {
        danger: 'Nobody that we know of; the tray has 3 unread',
        next: 'Read the tray 3 waiting',
        late: 'Nothing ends within a week.',
      },
    ],
    [
      'bench-full',
      {
        danger: 'Nobody that we know of; the tray has 3 unread',
        next: 'Adjust: Ida Quill',
        late: 'Owen Pratt 2 days left',
      },
    ],
    ['bench-danger', { danger: 'Ruth Hale', next: 'Ring Ruth Hale', late: 'Owen Pratt 2 days left' }],
  ])(
    '%s: who is in danger, what is next and what will be late stand in 24 px in the first 40 % of 1280×800',
    async (name, { danger, next, late }) => {
      await open(name);
      const answers = page.locator('dl.answers > div');
      expect(await answers.count()).toBe(3);
      const said = await answers.allInnerTexts();
      expect(said.map((one) => one.split('\n')[0])).toEqual(['In danger', 'Next', 'Ending soon']);
      [danger, next, late].forEach((words, at) => {
        expect(said[at]!.replace(/\s+/g, ' ')).toContain(words);
      });
      for (const one of await page
        .locator('dl.answers dt, dl.answers dd, dl.answers dd *:not(.unseen)')
        .all()) {
        const size = await one.evaluate((node) => Number.parseFloat(getComputedStyle(node).fontSize));
        expect(size, await one.innerText()).toBeGreaterThanOrEqual(ANSWER_PX);
      }
      expect(await ends('dl.answers')).toBeLessThanOrEqual(FIRST_PART * DESK.height);
    },
  );

  test('a case shows talk, causes with their numbers, the act and the lens picture on one screen', async () => {
    await open('case-full');
    for (const part of [
      '.talk-list',
      '#write-text',
      '.write button[type=submit]',
      '.cause-list > li:first-child .evidence',
      '.act-form .buttons',
      '.lens-picture svg[role=img]',
    ]) {
      expect(await ends(part), part).toBeLessThanOrEqual(DESK.height);
    }
    expect(await page.evaluate(() => scrollY)).toBe(0);
  });

  test('a long talk scrolls inside its own part, its newest in view, and moves nothing else', async () => {
    await open('case-full');
    const list = page.locator('.talk-list');
    const before = await starts('#write-text');
    const inside = await list.evaluate((node) => {
      const line = node.querySelector('li')!;
      for (let more = 0; more < 40; more += 1) node.append(line.cloneNode(true));
      node.scrollTop = node.scrollHeight;
      return { held: node.clientHeight, all: node.scrollHeight };
    });
    expect(inside.all).toBeGreaterThan(inside.held);
    expect((await starts('#write-text')) - before).toBeLessThanOrEqual(DESK.height * 0.31);
    expect(await ends('.write button[type=submit]')).toBeLessThanOrEqual(DESK.height);
  });

  test('on a phone the case goes from what was said over what it is to what to do, then picture and papers', async () => {
    await open('case-full', { width: 390, height: 844 });
    const order = [
      '.case-head',
      '.talk',
      '.causes',
      '.act-form',
      '.lens-picture',
      '.papers',
      '.fitting-sheet',
    ];
    const places: number[] = [];
    for (const part of order) places.push(await starts(`main ${part}`));
    expect(places).toEqual([...places].sort((one, other) => one - other));
  });
});
