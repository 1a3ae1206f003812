import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
let at: string;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text:
      'job number,name,phone,consent,handed over on,lens design,first multifocal,zone\n' +
      'J-7,Ida Quill,202 555 0117,text,2026-02-23,soft 15,yes,America/New_York',
    date_order: 'ymd',
  });
  await takeReply(screen.shell, {
    shopId: SHOP,
    channel: 'text',
    farId: 'far',
    from: '+12025550117',
    to: null,
    body: 'I have to lift my chin to read',
    receivedAt: screen.clock.now().toISOString(),
    raw: {},
  });
  const { case_id } = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
  at = `/cases/${case_id}`;
});
afterAll(() => database.close());

const seconds = (count: number) => screen.clock.moveTo(new Date(screen.clock.now().getTime() + count * 1000));

describe('a case at two screens', () => {
  const someoneElse = async (ago: number) => {
    await database.db
      .insertInto('case_open_with')
      .values({
        shop_id: SHOP,
        case_id: at.slice('/cases/'.length),
        person_id: 'tom',
        person_name: 'Tom Reyes',
        at: new Date(screen.clock.now().getTime() - ago * 1000),
      })
      .execute();
  };

  test('says who else has it open, and the version that an open page asks for changes with it', async () => {
    const alone = (await screen.get(`${at}/version`)).html;
    await someoneElse(5);
    expect(seen((await screen.get(at)).html)).toContain('Tom Reyes has this case open too');
    const both = (await screen.get(`${at}/version`)).html;
    expect(both).not.toBe(alone);
    expect((await screen.get(at)).html).toContain(`data-version="${both}"`);
    seconds(20);
    expect(seen((await screen.get(at)).html)).not.toContain('has this case open too');
  });

  test('the second act on a changed case is refused with what is newest, and does nothing', async () => {
    const version = /name="seen_version" value="(\d+)"/.exec((await screen.get(at)).html)![1]!;
    await screen.post(`${at}/hold`, { seen_version: version });
    const second = await screen.post(`${at}/close`, { seen_version: version, outcome: 'settled' });
    expect(second.status).toBe(409);
    expect(seen(second.html)).toContain('Nothing was done');
    expect(seen(second.html)).toContain('Ana Example held the case');
    const file = await database.db.selectFrom('case_file').select('closed_at').executeTakeFirstOrThrow();
    expect(file.closed_at).toBeNull();
  });
});

describe('what was written at the screen', () => {
  test('offers its way back for ten seconds, and says so when it was taken', async () => {
    const wrote = await screen.post(`${at}/write`, { text: 'Come on Monday.', channel: 'text', once: 'w' });
    expect(seen(wrote.then!.html)).toContain('It leaves in ten seconds');
    const action = new RegExp(`action="(${at}/unsend/[^"]+)"`).exec(wrote.then!.html)![1]!;
    expect(wrote.then!.html).toContain('data-undo-seconds="10"');
    seconds(9);
    const back = await screen.post(action, {});
    expect(seen(back.then!.html)).toContain('Taken back: it was not sent.');
    expect(seen((await screen.get(at)).html)).toContain('taken back by Ana Example');
    expect((await screen.get(at)).html).not.toContain('/unsend/');
  });

  test('after ten seconds the way back is gone, and pressing it late says what to do', async () => {
    const wrote = await screen.post(`${at}/write`, { text: 'Come on Monday.', channel: 'text', once: 'w' });
    const action = new RegExp(`action="(${at}/unsend/[^"]+)"`).exec(wrote.then!.html)![1]!;
    seconds(10);
    expect((await screen.get(at)).html).not.toContain('/unsend/');
    const late = await screen.post(action, {});
    expect(seen(late.then!.html)).toContain('It has left already. Send a correction under the message.');
  });
});
