import { sql } from 'kysely';
import { instantOfLocal } from '../channels/civilHours.ts';
import { type OffsetClock, standingClock, systemClock } from '../clock.ts';
import { actOnCase } from '../followup/actOnCase.ts';
import { importJobs } from '../followup/importJobs.ts';
import { addDays, localDay } from '../followup/planSlots.ts';
import { takeReply } from '../followup/takeReply.ts';
import { openRoom, type Room } from '../house.ts';
import type { Log } from '../log.ts';
import type { Database } from '../store/database.ts';
import type { Journal } from '../store/journal.ts';
import { firstShop, keepSettings } from '../store/shops.ts';
import { INVENTED_SHOP } from './shop.ts';
import { INVENTED_WEARERS, type InventedWearer } from './wearers.ts';

const HEAD = [
  'job number',
  'name',
  'phone',
  'email',
  'consent',
  'handed over on',
  'lens design',
  'first multifocal',
  'zone',
  'birth year',
];

type Event = { readonly at: Date; run(room: Room): Promise<void> };

/**
 * Fills the invented shop by playing weeks of it through the real use cases on a standing clock. A fill that was cut off is
 * begun again from nothing; a filled shop is left as it is.
 */
export async function fillInventedShop(
  opened: { database: Database; journal: Journal },
  log: Log,
  progress: (words: string, done: number, of: number) => void,
  now: Date = systemClock.now(),
): Promise<void> {
  const { db } = opened.database;
  const there = await firstShop(db);
  if (there?.settings.filled) return;
  if (there) await sql`truncate shop cascade`.execute(db);
  const events = INVENTED_WEARERS.flatMap((wearer, index) => eventsOf(wearer, index, now))
    .filter((event) => event.at <= now)
    .sort((a, b) => a.at.getTime() - b.at.getTime());
  const stand = standingClock(events[0]?.at ?? now);
  const clock: OffsetClock = {
    now: stand.now,
    offsetMs: () => 0,
    setOffsetMs() {},
  };
  const room = (await openRoom(opened, 'invented', INVENTED_SHOP, log, () => clock))!;
  progress('Playing the invented shop’s last weeks…', 0, events.length);
  for (const [index, event] of events.entries()) {
    await room.playTo(event.at, stand.moveTo);
    await event.run(room);
    if (index % 10 === 0) progress('Playing the invented shop’s last weeks…', index, events.length);
  }
  await room.playTo(now, stand.moveTo);
  const shop = (await firstShop(db))!;
  await keepSettings(db, shop.shop_id, { ...shop.settings, filled: true });
  progress('The invented shop is filled.', events.length, events.length);
}

function eventsOf(wearer: InventedWearer, index: number, now: Date): Event[] {
  const shopId = INVENTED_SHOP.shopId;
  const today = localDay(now, wearer.zone);
  const dayZero = addDays(today, -wearer.daysAgo);
  const phone = `+1 202-555-${wearer.phone}`;
  const jobNumber = `L-${String(1001 + index)}`;
  const taken: Event = {
    at: instantOfLocal(`${dayZero}T11:${String(index % 60).padStart(2, '0')}`, wearer.zone),
    async run(room) {
      const columns = [...HEAD, ...Object.keys(wearer.facts)];
      const values = [
        jobNumber,
        wearer.name,
        phone,
        wearer.email ?? '',
        wearer.consent,
        dayZero,
        `"${wearer.design}"`,
        wearer.first ? 'yes' : 'no',
        wearer.zone,
        String(wearer.bornIn),
        ...Object.values(wearer.facts),
      ];
      const done = await importJobs(room.shell, shopId, `${columns.join(',')}\n${values.join(',')}\n`, {
        take: true,
        by: 'Ada Example',
      });
      const problem = done.intake.refused[0]?.problems[0] ?? done.intake.notes.unknownColumns[0];
      if (problem !== undefined)
        throw new Error(`the invented shop's data are refused: ${JSON.stringify(problem)}`);
    },
  };
  const replies = wearer.says.map(
    ({ day, text }): Event => ({
      at: instantOfLocal(
        `${addDays(dayZero, day)}T${String(12 + (index % 6)).padStart(2, '0')}:${String((index * 7) % 60).padStart(2, '0')}`,
        wearer.zone,
      ),
      async run(room) {
        const byEmail = wearer.consent === 'email';
        await takeReply(room.shell, {
          shopId,
          channel: byEmail ? 'email' : 'text',
          farId: `invented-${index}-${day}`,
          from: byEmail ? wearer.email! : phone.replace(/[^+\d]/g, ''),
          to: null,
          body: text,
          receivedAt: room.shell.clock.now().toISOString(),
          raw: { invented: true },
        });
      },
    }),
  );
  const measures = (wearer.measured ?? []).map(
    (one): Event => ({
      at: instantOfLocal(`${addDays(dayZero, one.day)}T16:30`, wearer.zone),
      async run(room) {
        const file = await room.shell.db
          .selectFrom('case_file as f')
          .innerJoin('wearer as w', (join) =>
            join.onRef('w.shop_id', '=', 'f.shop_id').onRef('w.wearer_id', '=', 'f.wearer_id'),
          )
          .select('f.case_id')
          .where('w.name', '=', wearer.name)
          .where('f.closed_at', 'is', null)
          .executeTakeFirst();
        if (!file) return;
        const fact = {
          key: one.key,
          eye: one.eye,
          value: one.value,
          unit: 'mm',
          how: 'marks on the lens, wearer standing',
          by: 'Ada Example',
          source: 'bench',
        };
        await actOnCase(room.shell, shopId, file.case_id, { kind: 'fact', fact }, 'Ada Example');
      },
    }),
  );
  return [taken, ...replies, ...measures];
}
