import { cpSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { newFolder, runAfterfit, startAfterfit } from '../setup/process.ts';

const CSV = `job number,name,phone,email,consent,handed over on,lens design,first multifocal
A-1,Ida Quill,+1 202-555-0142,,text,2026-03-02,soft 15,yes
A-2,Bad Line,not a number,,text,2026-03-02,soft 15,yes
`;

const page = async (address: string, path: string, cookie = '') =>
  (await fetch(`${address}${path}`, { headers: { cookie } })).text();

const PASSWORD = 'blue kettle seven rivers';

/** Uses the owner's one-time link; what the browser then holds. */
async function joinAsOwner(address: string, link: string): Promise<string> {
  const path = link.slice(link.indexOf('/sign-in/'));
  const fields = {
    name: 'Ana Example',
    email: 'ana@example.com',
    password: PASSWORD,
    password_again: PASSWORD,
  };
  const joined = await post(address, path, path, fields);
  expect(joined.headers.get('location')).toBe('/sign-in/second-factor');
  return joined.headers.getSetCookie()[0]!.split(';')[0]!;
}

/** Posts a form of the pages as a browser would: with the cookie and the token of the page. */
async function post(
  address: string,
  from: string,
  path: string,
  fields: Record<string, string>,
): Promise<Response> {
  const first = await fetch(`${address}${from}`);
  const cookie = first.headers
    .getSetCookie()
    .map((one) => one.split(';')[0])
    .join('; ');
  const csrf = /name="csrf" value="([0-9a-f]+)"/.exec(await first.text())![1]!;
  return fetch(`${address}${path}`, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
    body: new URLSearchParams({ csrf, ...fields }),
  });
}

test('one folder has one owner: the second start names the first; an import works through it; data survive a restart', async () => {
  const folder = newFolder();
  const first = await startAfterfit(['--own'], folder);
  const second = await runAfterfit(['start', '--own'], { folder });
  expect(second.code).toBe(1);
  expect(second.err).toContain(`is in use by process`);
  expect(second.err).toContain(first.address);

  const file = join(folder, 'jobs.csv');
  writeFileSync(file, CSV);
  const imported = await runAfterfit(['import', file], { folder });
  expect(imported.err).toContain(first.address);
  expect(imported.out).toContain('1 taken in, 0 already here unchanged, 1 refused.');
  expect(imported.out).toMatch(/line 3, .*phone/i);
  expect(imported.code).toBe(2);
  const link = /The owner’s link, .*: (http\S+)/.exec(first.out())![1]!;
  const cookie = await joinAsOwner(first.address, link);
  expect(await page(first.address, '/deliveries?show=all')).not.toContain('A-1');
  expect(await page(first.address, '/deliveries?show=all', cookie)).toContain('A-1');
  const again = await runAfterfit(['import', file], { folder });
  expect(again.out).toContain('0 taken in, 1 already here unchanged, 1 refused.');
  await first.stop();

  const restarted = await startAfterfit([], folder);
  expect(restarted.out()).not.toContain('owner’s link');
  // Who was signed in still is; the owner who forgot the password has a command.
  expect(await page(restarted.address, '/deliveries?show=all', cookie)).toContain('A-1');
  const anew = await runAfterfit(['owner-link'], { folder });
  expect(anew.code).toBe(0);
  const other = await joinAsOwner(restarted.address, anew.out.trim());
  expect(await page(restarted.address, '/deliveries?show=all', cookie)).not.toContain('A-1');
  expect(await page(restarted.address, '/deliveries?show=all', other)).toContain('A-1');
  await restarted.stop();
});

test('an import without a server opens the folder itself; a killed server leaves a lock that is known to be stale', async () => {
  const folder = newFolder();
  const server = await startAfterfit(['--own'], folder);
  await server.stop('SIGKILL');
  const file = join(folder, 'jobs.csv');
  writeFileSync(file, CSV);
  const imported = await runAfterfit(['import', file], { folder });
  expect(imported.out).toContain('1 taken in');
});

test('the database folder set back to an older copy: replies come back from the journal', async () => {
  const folder = newFolder();
  const first = await startAfterfit(['--invented'], folder);
  await first.stop();
  const database = join(folder, 'invented', 'database');
  cpSync(database, join(folder, 'older'), { recursive: true });

  const second = await startAfterfit([], folder);
  const rehearsal = await page(second.address, '/rehearsal');
  const contact = /name="contact_id" value="([^"]+)"/.exec(rehearsal)![1]!;
  const said = await post(second.address, '/rehearsal', '/rehearsal/reply', {
    contact_id: contact,
    text: 'the floor sways like a ferry zzz-mark',
  });
  expect(said.status).toBe(303);
  await second.stop();

  rmSync(database, { recursive: true });
  cpSync(join(folder, 'older'), database, { recursive: true });
  const third = await startAfterfit([], folder);
  expect(await page(third.address, `/rehearsal?hold=${contact}`)).toContain('zzz-mark');
  expect(await page(third.address, '/bench')).toContain('zzz-mark');
  await third.stop();
});

test('a taken port is one clear line', async () => {
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
  const address = taken.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  const ran = await runAfterfit(['start', '--own', '--port', String(port)], { folder: newFolder() });
  taken.close();
  expect(ran.code).toBe(1);
  expect(ran.err).toBe(`Port ${port} is taken. Leave it out to take a free one.\n`);
});

test('on an empty folder the page asks once, and the answer opens the shop; forged forms are refused', async () => {
  const server = await startAfterfit([]);
  const asked = await fetch(`${server.address}/bench`);
  expect(asked.url).toContain('/welcome');
  const refused = await post(server.address, '/welcome', '/welcome', {
    choice: 'own',
    name: '',
    country: 'US',
    time_zone: 'America/Denver',
  });
  expect(refused.status).toBe(400);
  const done = await post(server.address, '/welcome', '/welcome', {
    choice: 'own',
    name: 'Corner Optics',
    country: 'US',
    time_zone: 'America/Denver',
    phone: '',
  });
  expect(done.status).toBe(303);
  // Whoever answered sits at the machine: on to their own sign-in.
  const cookie = await joinAsOwner(server.address, done.headers.get('location')!);
  expect(await page(server.address, '/bench', cookie)).toContain('Corner Optics');

  // A form without its token, and the commands' door without its key, stay shut.
  const forged = await fetch(`${server.address}/deliveries`, {
    method: 'POST',
    headers: { cookie },
    body: new URLSearchParams({ name: 'x' }),
  });
  expect(forged.status).toBe(403);
  const { status } = await fetch(`${server.address}/api/import`, { method: 'POST', body: CSV });
  expect(status).toBe(403);
  await server.stop();
});
