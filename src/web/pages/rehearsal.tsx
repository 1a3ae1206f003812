import type { Context, Hono } from 'hono';
import { RehearsalPage } from '../../../dashboard/rehearsal/page.tsx';
import type { Handset, RehearsalView } from '../../../dashboard/rehearsal/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { nextInstant } from '../../followup/playUntil.ts';
import { takeReply } from '../../followup/takeReply.ts';
import { newId } from '../../ids.ts';
import { type HandsetRow, handsetMessages, handsets, nextPlanned } from '../../store/pages/rehearsal.ts';
import type { Shop } from '../../store/shops.ts';
import { localTimes, readable, shortTime } from '../format.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, type Web } from '../web.ts';

const SHOWN = { text: 2, email: 1 } as const;
const LONGEST_MOVE_DAYS = 60;

/** Two pretend telephones, a mailbox and a clock that can be moved: only in the invented shop, nothing leaves it. */
export function rehearsalRoutes(app: Hono<Web>): void {
  app.use('/rehearsal/*', async (c, next) => (c.get('room').kind === 'invented' ? next() : onlyInvented(c)));
  app.get('/rehearsal', async (c) => {
    const room = c.get('room');
    if (room.kind !== 'invented') return onlyInvented(c);
    const { shell, shop, now } = await loadShell(c, 'Rehearsal', '/rehearsal');
    const all = await handsets(room.shell.db, room.shopId);
    const asked = (c.req.query('hold') ?? '').split(',');
    const pick = (channel: 'text' | 'email') => {
      const own = all.filter((one) => one.channel === channel);
      const first = own.filter((one) => asked.includes(one.contact_id));
      return [...first, ...own.filter((one) => !first.includes(one))].slice(0, SHOWN[channel]);
    };
    const inHand: Handset[] = [];
    for (const row of [...pick('text'), ...pick('email')]) inHand.push(await handsetOf(c, row, shop, now));
    const held = [...pick('text'), ...pick('email')];
    const phones = inHand.filter((_, index) => held[index]!.channel === 'text');
    const view: RehearsalView = {
      handsets: phones,
      mailbox: inHand.find((_, index) => held[index]!.channel === 'email') ?? null,
      nextDue: await nextDueWords(c, shop, now),
      others: all
        .filter((one) => !held.includes(one))
        .slice(0, 60)
        .map((one) => ({
          words: `${one.names.join(' and ')} (${one.channel})`,
          href: `/rehearsal?hold=${[one.contact_id, ...held.filter((h) => h.channel === one.channel).map((h) => h.contact_id)].slice(0, SHOWN[one.channel]).join(',')}`,
        })),
    };
    return c.html(renderDocument(<RehearsalPage shell={shell} view={view} />));
  });

  app.post('/rehearsal/clock', async (c) => {
    const room = c.get('room');
    const now = room.shell.clock.now();
    if (field(c, 'to') === 'next-due') {
      const next = await nextInstant(room.shell.db, now);
      if (!next)
        return back(c, '/rehearsal', {
          kind: 'trouble',
          text: 'Nothing is due: take a job in and hand it over first.',
        });
      await room.moveClock(next);
      return back(c, '/rehearsal', { kind: 'done', text: 'The clock stands at what was due next.' });
    }
    const minutes = Number.parseInt(field(c, 'minutes'), 10);
    if (!(minutes > 0 && minutes <= LONGEST_MOVE_DAYS * 1440)) {
      return back(c, '/rehearsal', {
        kind: 'trouble',
        text: `Move the clock forward by 1 minute to ${LONGEST_MOVE_DAYS} days.`,
      });
    }
    await room.moveClock(new Date(now.getTime() + minutes * 60_000));
    return back(c, '/rehearsal', {
      kind: 'done',
      text: 'The clock was moved, and all that fell due was done on the way.',
    });
  });

  app.post('/rehearsal/reply', async (c) => {
    const room = c.get('room');
    const contact = (await handsets(room.shell.db, room.shopId)).find(
      (one) => one.contact_id === field(c, 'contact_id'),
    );
    const text = field(c, 'text');
    if (!contact) return back(c, '/rehearsal', { kind: 'trouble', text: 'There is no such telephone here.' });
    const to = `/rehearsal?hold=${contact.contact_id}`;
    if (text === '') return back(c, to, { kind: 'trouble', text: 'Write something first.' });
    const now = room.shell.clock.now();
    await takeReply(room.shell, {
      shopId: room.shopId,
      channel: contact.channel,
      farId: `rehearsal-${newId(now)}`,
      from: contact.address,
      to: null,
      body: text.slice(0, 5000),
      receivedAt: now.toISOString(),
      raw: { rehearsal: true },
    });
    await room.work();
    return back(c, to, {
      kind: 'done',
      text: 'Sent from the pretend telephone. The shop answers after two quiet minutes; stop, help and danger at once.',
    });
  });
}

const onlyInvented = (c: Context<Web>) =>
  trouble(
    c,
    404,
    'The rehearsal is only in the invented shop.',
    'Start with “npm start -- --invented” to look round there.',
  );

async function handsetOf(c: Context<Web>, row: HandsetRow, shop: Shop, now: Date): Promise<Handset> {
  const room = c.get('room');
  const messages = await handsetMessages(room.shell.db, room.shopId, row.channel, row.address, 20);
  return {
    contactId: row.contact_id,
    address: readable(row.address),
    names: row.names,
    localTime: localTimes(now, row.zones),
    messages: messages.map((one) => ({
      direction: one.out ? 'from the shop' : 'from the wearer',
      when: shortTime(one.at, now, row.zones[0] ?? shop.time_zone),
      subject: one.subject ?? '',
      body: one.body,
      lang: row.locale === 'es' ? 'es' : 'en',
    })),
  };
}

async function nextDueWords(c: Context<Web>, shop: Shop, now: Date): Promise<string | null> {
  const room = c.get('room');
  const next = await nextPlanned(room.shell.db, room.shopId, now);
  return next
    ? `${next.slot} to ${next.name}, ${shortTime(next.due_at, now, shop.time_zone)} by the shop’s clock`
    : null;
}
