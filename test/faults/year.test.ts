import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type Database, openServer } from '../../src/store/database.ts';
import { named, withServer } from '../setup/global.ts';
import { type Mortal, mortal } from './mortal.ts';
import { playYear, type Sabotage } from './year.ts';

/*
 * Aim: whatever dies and whatever the clock does, no check-in is sent twice, who said stop gets no other, nobody is messaged
 * outside civil hours, no reply is lost, and every danger sign reaches the telephone of the person on call. Method: a year of 200 wearers in six zones by one seed, the process killed
 * between any two steps, messages doubled, the clock set back; after each day the promises are checked against the
 * world's own record of what was delivered. Controls break one promise each and must be found out.
 */
const SEED = Number(process.env.YEAR_SEED ?? 20261125);

let opened: { god: Database; process: Mortal; close(): Promise<void> };

async function open() {
  const base = inject('postgresUrl');
  const name = `year_${randomBytes(6).toString('hex')}`;
  await withServer(base, (client) => client.query(`create database ${name} template afterfit_template`));
  const url = named(base, name);
  const god = openServer(url);
  const process = mortal(url);
  return {
    god,
    process,
    async close() {
      await process.db.destroy();
      await god.close();
      await withServer(base, (client) => client.query(`drop database if exists ${name} with (force)`));
    },
  };
}

beforeAll(async () => {
  opened = await open();
});
afterAll(() => opened.close());

test('a year of 200 wearers: nothing twice, nobody after stop, nobody at night, no reply and no alarm lost', {
  timeout: 900_000,
}, async () => {
  const told = await playYear(opened.god.db, opened.process, {
    seed: SEED,
    wearers: 200,
    days: Number(process.env.YEAR_DAYS ?? 365),
    randomTicks: 500,
    sabotage: 'none',
  });
  expect(told.broken, `seed ${told.seed}`).toEqual([]);
  // The year was a real one: many messages, many answers, many deaths, some stops.
  expect(told.checkIns, `seed ${told.seed}`).toBeGreaterThan(400);
  expect(told.replies, `seed ${told.seed}`).toBeGreaterThan(300);
  expect(told.deaths, `seed ${told.seed}`).toBeGreaterThan(50);
  expect(told.stopped, `seed ${told.seed}`).toBeGreaterThan(10);
  expect(told.alarms, `seed ${told.seed}`).toBeGreaterThan(10);
  console.log(JSON.stringify(told));
});

test.each<Sabotage>(['forget what was sent', 'forget who said stop', 'lose a reply', 'lose an alarm'])(
  'control: a shop that would “%s” is found out',
  { timeout: 300_000 },
  async (sabotage) => {
    const own = await open();
    try {
      const told = await playYear(own.god.db, own.process, {
        seed: SEED,
        wearers: 40,
        days: 60,
        randomTicks: 20,
        sabotage,
      });
      expect(told.broken.length, `seed ${told.seed}`).toBeGreaterThan(0);
    } finally {
      await own.close();
    }
  },
);
