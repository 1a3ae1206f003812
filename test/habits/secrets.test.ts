import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('../..', import.meta.url).pathname;

/** Shapes of secrets that would open something: keys and tokens of services as their makers write them. */
const SECRETS = [
  /-----BEGIN (?:[A-Z]+ )?PRIVATE KEY-----/,
  /\bAKIA[0-9A-Z]{16}\b/,
  /\bgh[pousr]_[A-Za-z0-9]{36,}\b/,
  /\bxox[abprs]-[A-Za-z0-9-]{10,}/,
  /\bsk_live_[A-Za-z0-9]{16,}/,
  /\bAC(?!0{32})[0-9a-f]{32}\b/,
  /\baf_[\w-]{43}\b/,
  /postgres(?:ql)?:\/\/[^\s:'"`]+:[^\s@'"`{}$]{8,}@(?!localhost|127\.)[\w.-]+\.[a-z]{2,}/,
];

test('no file of the repository holds a key, a token or a password of anything real', () => {
  const files = execFileSync('git', ['ls-files', '-z'], { cwd: root, encoding: 'utf8' })
    .split('\0')
    .filter((name) => /\.(ts|tsx|js|mjs|json|md|yml|yaml|sh|env|tsv|csv|txt)$|^\.[\w/]+$/.test(name));
  expect(files.length).toBeGreaterThan(300);
  const found = files.filter((name) => {
    const text = readFileSync(join(root, name), 'utf8');
    return SECRETS.some((secret) => secret.test(text));
  });
  expect(found).toEqual([]);
});

test('no file of settings with secrets is kept in the repository', () => {
  const files = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).split('\n');
  expect(files.filter((name) => /(^|\/)\.env|\.pem$|\.key$|id_rsa/.test(name))).toEqual([]);
});
