import { randomUUID } from 'node:crypto';
import type { Context, Hono } from 'hono';
import { CasePage } from '../../../dashboard/case/page.tsx';
import type { FieldTrouble } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { FACT_KEYS, type JobFactKey, readJobFacts } from '../../causes/jobFacts.ts';
import { actOnCase, type CaseAct } from '../../followup/actOnCase.ts';
import { REMAKE_BEARERS, REMAKE_REASONS } from '../../followup/remakeJob.ts';
import { takeReply } from '../../followup/takeReply.ts';
import { closeCase, numbersToSign } from '../../followup/toSign.ts';
import { openWith } from '../../store/casePresence.ts';
import { findCase } from '../../store/cases.ts';
import { shopCounts } from '../../store/counts.ts';
import type { CaseState, ChannelKind, Outcome } from '../../store/tables.ts';
import type { RoomAtScreen } from '../sessions.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { workWhenItLeaves } from '../workWhenItLeaves.ts';
import { loadCase, type Typed } from './caseView.ts';
import { ACT_WORDS } from './views.ts';

/** One wearer's trouble with one pair: the talk, the causes with their numbers, the act. */
export function caseRoutes(app: Hono<Web>): void {
  app.get('/cases/:id', (c) => page(c));
  app.get('/cases/:id/version', async (c) => {
    const room = c.get('room');
    const { version } = await shopCounts(room.shell.db, room.shopId);
    return c.text(versionWith(version, await whoElse(room, c.req.param('id'))));
  });

  const act = (path: string, read: (c: Context<Web>) => CaseAct, done: string) =>
    app.post(`/cases/:id/${path}`, async (c) => {
      const room = c.get('room');
      const id = c.req.param('id') ?? '';
      const seen = Number.parseInt(field(c, 'seen_version'), 10);
      const seenVersion = Number.isNaN(seen) ? undefined : seen;
      const wanted = read(c);
      const result =
        wanted.kind === 'close'
          ? await closeCase(room.shell, room.shopId, id, wanted, room.actor, seenVersion)
          : await actOnCase(room.shell, room.shopId, id, wanted, room.actor.name, seenVersion);
      if (!result.ok) {
        const { code, what, mend } = result.problems[0]!;
        if (code === 'no-case') return trouble(c, 404, what, mend);
        if (code === 'has-left') return back(c, `/cases/${id}`, result.problems);
        if (code === 'case-changed')
          return page(c, { values: formValues(c), troubles: [], changed: [what, mend] }, 409);
        return page(
          c,
          {
            values: formValues(c),
            troubles: result.problems.map((one) => ({ field: one.where, text: `${one.what} ${one.mend}` })),
            changed: [],
          },
          400,
        );
      }
      void room.work();
      if (SENDS.has(wanted.kind)) workWhenItLeaves(room);
      const text = 'waits' in result.value && result.value.waits ? WAITS : done;
      return back(c, `/cases/${id}`, { kind: 'done', text });
    });

  act(
    'hold',
    (c) => ({ kind: 'hold', againOn: field(c, 'again_on') || null }),
    'You hold the case: automatic messages wait.',
  );
  act('release', () => ({ kind: 'release' }), 'The case is free again.');
  act('have-it', () => ({ kind: 'have it' }), 'You have it. Ring now, then write down here what was said.');
  act(
    'write',
    (c) => ({ kind: 'write', text: field(c, 'text'), channel: channelOf(c), onceKey: onceKey(c) }),
    LEAVES,
  );
  act('question', (c) => ({ kind: 'ask', channel: channelOf(c), onceKey: onceKey(c) }), LEAVES);
  act(
    'answer',
    (c) => ({ kind: 'answered', questionId: field(c, 'question_id'), answer: field(c, 'answer') }),
    'The answer is noted and the causes are weighed again.',
  );
  act(
    'act',
    (c) => ({
      kind: 'act',
      act: field(c, 'act'),
      way: field(c, 'way'),
      note: field(c, 'note'),
      state: stateAfter(field(c, 'act'), field(c, 'way')),
    }),
    'Noted. The case moves on.',
  );
  act(
    'close',
    (c) => ({
      kind: 'close',
      outcome: field(c, 'outcome') as Outcome,
      reason: REMAKE_REASONS.find((one) => one === field(c, 'reason')) ?? null,
      borneBy: REMAKE_BEARERS.find((one) => one === field(c, 'borne_by')) ?? null,
      cause: field(c, 'cause') || null,
      causeHow: field(c, 'cause_how') || null,
    }),
    'The case is closed.',
  );
  act(
    'take-back',
    (c) => ({ kind: 'take back', eventId: field(c, 'event_id') }),
    'Taken back: it is as it was, and both stand in the history.',
  );
  act(
    'correct',
    (c) => ({
      kind: 'correct',
      messageId: field(c, 'message_id'),
      text: field(c, 'text'),
      onceKey: onceKey(c),
    }),
    LEAVES,
  );
  act(
    'unsend/:message',
    (c) => ({ kind: 'unsend', messageId: c.req.param('message') ?? '' }),
    'Taken back: it was not sent.',
  );
  act('reopen', () => ({ kind: 'reopen' }), 'The case is open again.');

  app.post('/cases/:id/facts', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const read = readFact(field(c, 'key'), field(c, 'value'), field(c, 'eye'));
    if ('trouble' in read)
      return page(c, { values: formValues(c), troubles: [read.trouble], changed: [] }, 400);
    const by = await personName(room);
    for (const eye of read.eyes) {
      const fact = {
        key: read.key,
        eye,
        value: read.value,
        unit: unitOf(read.key),
        how: field(c, 'how') || null,
        by,
        source: 'bench',
      };
      const result = await actOnCase(room.shell, room.shopId, id, { kind: 'fact', fact }, by);
      if (!result.ok) return back(c, `/cases/${id}`, result.problems);
    }
    const detail = { key: read.key, value: read.value, eye: read.eyes.length === 1 ? read.eyes[0] : null };
    const what = { kind: 'measures', caseId: id, detail } as const;
    const waits = await numbersToSign(room.shell, room.shopId, room.actor, what);
    const text = `Noted. The causes are weighed again.${waits ? ' It is to be signed by a licensed person.' : ''}`;
    return back(c, `/cases/${id}`, { kind: 'done', text });
  });

  app.post('/cases/:id/heard', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const file = await findCase(room.shell.db, room.shopId, id);
    if (!file) return trouble(c, 404, 'There is no such case.', 'Open it again from the bench.');
    const text = field(c, 'text');
    if (text === '')
      return page(
        c,
        {
          values: formValues(c),
          troubles: [{ field: 'text', text: 'Write down what was said.' }],
          changed: [],
        },
        400,
      );
    const by = await personName(room);
    await takeReply(room.shell, {
      shopId: room.shopId,
      channel: field(c, 'how') === 'counter' ? 'counter' : 'phone',
      farId: `typed-${onceKey(c)}`,
      from: by,
      to: null,
      body: text,
      receivedAt: room.shell.clock.now().toISOString(),
      raw: { wearerId: file.wearer_id, typedBy: by },
    });
    return back(c, `/cases/${id}`, { kind: 'done', text: 'Written down and read like any reply.' });
  });
}

const WAITS =
  'This case had a danger sign, so its closure waits to be signed by a licensed person. It stays open until then.';

const LEAVES = 'It leaves in ten seconds; until then you can take it back, in the talk.';
const SENDS: ReadonlySet<CaseAct['kind']> = new Set<CaseAct['kind']>(['write', 'ask', 'correct']);

async function page(c: Context<Web>, typed?: Typed, status: 200 | 400 | 409 = 200) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Case', '/bench');
  const id = c.req.param('id') ?? '';
  const others = await whoElse(room, id);
  const view = await loadCase(room.shell.db, shop, id, personName(room), now, {
    ...(typed ?? { values: {}, troubles: [], changed: [] }),
    openWith: others,
  });
  if (!view) return trouble(c, 404, 'There is no such case.', 'Open it again from the bench.');
  return c.html(
    renderDocument(
      <CasePage
        shell={{ ...shell, title: view.wearer.name, version: versionWith(shell.version, others) }}
        view={view}
      />,
    ),
    status,
  );
}

/** Notes that the one at the screen has this case open, and tells who else has. */
const whoElse = async (room: RoomAtScreen, caseId: string): Promise<string[]> =>
  (await findCase(room.shell.db, room.shopId, caseId))
    ? openWith(room.shell.db, room.shopId, caseId, room.actor, room.shell.clock.now())
    : [];

const versionWith = (version: string, others: readonly string[]): string =>
  others.length === 0 ? version : `${version} ${others.join(', ')}`;

const channelOf = (c: Context<Web>): ChannelKind => (field(c, 'channel') === 'email' ? 'email' : 'text');

/** The form carries a key of its own, so that a double press sends once; a form without one is one press. */
const onceKey = (c: Context<Web>): string => field(c, 'once') || randomUUID();

function formValues(c: Context<Web>): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of c.get('form').entries())
    if (typeof value === 'string' && name !== 'csrf') values[name] = value;
  return values;
}

/** Where a case stands after an act was chosen. */
function stateAfter(act: string, way: string): CaseState {
  if (act === 'remake') return 'at the lab';
  if (act === 'prescriber') return 'with the prescriber';
  if (!(act in ACT_WORDS)) return 'new';
  if (act === 'check-order') return way === 'by post' ? 'parcel to us' : 'on our bench';
  if (act === 'adjust' || act === 're-measure') return way === 'by post' ? 'parcel to us' : 'coming in';
  return 'new';
}

type ReadFact =
  | { key: JobFactKey; value: unknown; eyes: readonly ('R' | 'L' | null)[] }
  | { trouble: FieldTrouble };

/** One measured fact from the form, with the ranges and words of the ranking's own list. */
function readFact(key: string, typed: string, eye: string): ReadFact {
  if (!(key in FACT_KEYS))
    return {
      trouble: { field: 'key', text: `“${key}” is not a fact that is weighed. Choose one of the list.` },
    };
  const known = FACT_KEYS[key as JobFactKey];
  const text = typed.replace(',', '.').replace('−', '-');
  const { facts, problems } = readJobFacts({ [key]: text });
  const value = facts[key as JobFactKey];
  if (value === undefined)
    return {
      trouble: {
        field: 'value',
        text: problems.map((one) => `${one.what} ${one.mend}`).join(' ') || 'Write what was found.',
      },
    };
  if (known.kind !== 'eyes') return { key: key as JobFactKey, value, eyes: [null] };
  const each = typeof value === 'object' && 'R' in value ? value.R : value;
  return { key: key as JobFactKey, value: each, eyes: eye === 'R' || eye === 'L' ? [eye] : ['R', 'L'] };
}

const unitOf = (key: string): string | null =>
  key.endsWith('_mm')
    ? 'mm'
    : key.endsWith('_deg')
      ? 'degrees'
      : key.endsWith('_D')
        ? 'D'
        : key.endsWith('_pd')
          ? 'prism dioptres'
          : key.endsWith('_cm')
            ? 'cm'
            : key.endsWith('_C')
              ? '°C'
              : null;
