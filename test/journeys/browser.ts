import { existsSync, mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';
const PICTURES = fileURLToPath(new URL('../../screenshots/journeys', import.meta.url));

/** Without a browser the journeys are skipped with a reason; on CI that is a failure. */
export function browserMissing(): boolean {
  if (existsSync(CHROMIUM)) return false;
  if (process.env.CI) throw new Error(`The journeys need ${CHROMIUM}; .ci/run installs it.`);
  console.warn(`Skipped: ${CHROMIUM} is not there. Install Debian's chromium to walk the journeys.`);
  return true;
}

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

/** The page at both widths, into an ignored folder, where JOURNEY_PICTURES asks for it. */
export async function picture(page: Page, name: string): Promise<void> {
  if (!process.env.JOURNEY_PICTURES) return;
  mkdirSync(PICTURES, { recursive: true });
  const before = page.viewportSize()!;
  for (const [width, height] of [
    [1280, 800],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.screenshot({ path: `${PICTURES}/${name}-${width}.png`, fullPage: true });
  }
  await page.setViewportSize(before);
}
