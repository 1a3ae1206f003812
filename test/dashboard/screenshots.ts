/*
 * Takes a picture of every story at both widths, light and dark, into screenshots/, and has axe look at each.
 *   npx tsx test/dashboard/screenshots.ts [part of a name]
 */
import { mkdir } from 'node:fs/promises';
import { AxeBuilder } from '@axe-core/playwright';
import { chromium } from 'playwright-core';
import { storyNames } from './stories.tsx';
import { hostStories, STORIES_AT } from './storyHost.ts';

const wanted = process.argv[2] ?? '';
const folder = new URL('../../screenshots/', import.meta.url).pathname;
const executablePath = process.env.CHROMIUM ?? '/usr/bin/chromium';

await mkdir(folder, { recursive: true });
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
let findings = 0;
for (const width of [1280, 390]) {
  for (const colorScheme of ['light', 'dark'] as const) {
    const context = await browser.newContext({
      viewport: { width, height: width === 390 ? 844 : 800 },
      colorScheme,
    });
    await hostStories(context);
    for (const name of storyNames.filter((each) => each.includes(wanted))) {
      const page = await context.newPage();
      page.on('console', (message) => {
        if (message.type() !== 'error') return;
        findings += 1;
        console.log(`${name} ${width} ${colorScheme}: console: ${message.text()}`);
      });
      await page.goto(`${STORIES_AT}/${name}`);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      if (overflow > 0) {
        findings += 1;
        console.log(`${name} ${width} ${colorScheme}: ${overflow} px wider than the screen`);
      }
      const answersEnd = await page.evaluate(
        () => document.querySelector('.answers')?.getBoundingClientRect().bottom ?? 0,
      );
      if (width === 1280 && answersEnd > 0.4 * 800) {
        findings += 1;
        console.log(`${name}: the three answers end at ${Math.round(answersEnd)} px, below 40 % of the page`);
      }
      const looked = await new AxeBuilder({ page }).analyze();
      for (const violation of looked.violations) {
        findings += 1;
        const nodes = violation.nodes
          .slice(0, 3)
          .map((node) => `${node.target.join(' ')} ${node.failureSummary ?? ''}`);
        console.log(
          `${name} ${width} ${colorScheme}: ${violation.id}: ${violation.help}\n   ${nodes.join('\n   ')}`,
        );
      }
      await page.screenshot({ path: `${folder}${name}-${width}-${colorScheme}.png`, fullPage: true });
      await page.close();
    }
    await context.close();
  }
}
await browser.close();
console.log(`${storyNames.length} stories, ${findings} findings, pictures in screenshots/`);
if (findings > 0) process.exitCode = 1;
