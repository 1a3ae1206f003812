import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';

const css = readFileSync(new URL('../../dashboard/style.css', import.meta.url), 'utf8');
const inks = (block: string | undefined): Record<string, string> =>
  Object.fromEntries(
    [...(block ?? '').matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map(([, name, ink]) => [name, ink]),
  );
const light = inks(/:root \{[\s\S]*?\n\}/.exec(css)?.[0]);
const dark = inks(/prefers-color-scheme: dark\) \{[\s\S]*?\n\}/.exec(css)?.[0]);

/** Contrast of two colours by WCAG 2.2, "contrast ratio" and "relative luminance". */
function contrast(one: string, other: string): number {
  const [high, low] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

describe.each([
  ['light', light],
  ['dark', dark],
])('%s', (_name, of) => {
  test.each([
    ['ink', 'sheet'],
    ['ink', 'desk'],
    ['soft', 'sheet'],
    ['soft', 'desk'],
    ['blue', 'sheet'],
    ['blue', 'desk'],
    ['red', 'sheet'],
    ['red', 'desk'],
    ['red', 'red-wash'],
    ['ink', 'red-wash'],
    ['on-press', 'press'],
  ])('words in %s on %s: at least 4.5 to 1 (WCAG 2.2, 1.4.3)', (ink, paper) => {
    expect(contrast(of[ink] ?? '', of[paper] ?? '')).toBeGreaterThanOrEqual(4.5);
  });

  test.each([
    ['edge', 'sheet'],
    ['edge', 'desk'],
    ['ochre', 'sheet'],
    ['ochre', 'desk'],
    ['blue', 'sheet'],
  ])('edges of fields and marks in %s on %s: at least 3 to 1 (WCAG 2.2, 1.4.11)', (ink, paper) => {
    expect(contrast(of[ink] ?? '', of[paper] ?? '')).toBeGreaterThanOrEqual(3);
  });
});

test('both papers have every ink', () => {
  expect(Object.keys(dark).sort()).toEqual(Object.keys(light).sort());
  expect(Object.keys(light).length).toBeGreaterThanOrEqual(12);
});

test('black on white is 21 to 1: the reckoning itself', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
});

test('nothing is fetched from elsewhere, and the script stays under 15 kB', () => {
  expect(css).not.toMatch(/url\(|@import/);
  const script = readFileSync(new URL('../../dashboard/island.js', import.meta.url));
  expect(script.byteLength).toBeLessThanOrEqual(15_000);
});

test('the first view of a full bench with style and script stays under 60 kB over the wire, the script under 15 kB', async () => {
  const { story } = await import('./stories.tsx');
  const script = readFileSync(new URL('../../dashboard/island.js', import.meta.url));
  const wire = (of: string | Buffer) => gzipSync(of).byteLength;
  for (const bench of ['bench-full', 'bench-danger', 'bench-long'])
    expect(wire(story(bench)) + wire(css) + wire(script)).toBeLessThanOrEqual(60_000);
  // Without compression, too, the script stays small.
  expect(script.byteLength).toBeLessThanOrEqual(15_000);
});
