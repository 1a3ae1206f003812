import type { Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { ToSignPage } from '../../../dashboard/to-sign/page.tsx';
import type { ToSignView } from '../../../dashboard/to-sign/view.ts';
import { localDay } from '../../followup/planSlots.ts';
import { KIND_WORDS, settleToSign } from '../../followup/toSign.ts';
import { quantityOf } from '../../intake/quantities.ts';
import { licensedOn } from '../../store/papers.ts';
import { unsignedPapers, unsignedReleases, type WaitingToSign, waitingToSign } from '../../store/toSign.ts';
import { shortTime } from '../format.ts';
import { back, field, loadShell, type Web } from '../web.ts';

const MOST = 200;

/** What people without a licence did and a licensed person has still to sign. */
export function toSignRoutes(app: Hono<Web>): void {
  app.get('/to-sign', async (c) => {
    const room = c.get('room');
    const { db } = room.shell;
    const { shell, shop, now } = await loadShell(c, 'To sign', '/to-sign');
    const licensed = await licensedOn(db, room.shopId, localDay(now, shop.time_zone));
    const told = (by: string, at: Date) => `${by}, ${shortTime(at, now, shop.time_zone)}`;
    const view: ToSignView = {
      maySign: licensed.some((person) => person.person_id === room.actor.personId),
      signers: licensed.map((person) => person.name),
      waiting: (await waitingToSign(db, room.shopId, MOST)).map((one) => ({
        id: one.to_sign_id,
        what: whatWords(one),
        wearer: one.wearer ?? '',
        ...(one.kind === 'order' && one.job_id === null
          ? {
              jobs: one.jobs.map((job) => ({
                words: `${job.job_key}, ${job.wearer}`,
                href: `/jobs/${job.job_id}`,
              })),
            }
          : {}),
        href: one.case_id ? `/cases/${one.case_id}` : `/jobs/${one.job_id}`,
        by: told(one.by_name, one.at),
      })),
      papers: [
        ...(await unsignedPapers(db, room.shopId)).map((paper) => ({
          what: paper.kind === 'remake' ? 'Order note for a remake' : 'Note to the prescriber',
          wearer: paper.wearer,
          href: `/cases/${paper.case_id}/${paper.kind}`,
          by: told(paper.made_by, paper.at),
        })),
        ...(await unsignedReleases(db, room.shopId)).map((release) => ({
          what: `Released at the bench (${release.why})`,
          wearer: release.wearer,
          href: `/jobs/${release.job_id}/slip`,
          by: told(release.by_name, release.at),
        })),
      ],
    };
    return c.html(renderDocument(<ToSignPage shell={shell} view={view} />));
  });

  app.post('/to-sign/:id', async (c) => {
    const room = c.get('room');
    const how = field(c, 'how') === 'turned down' ? 'turned down' : 'signed';
    const done = await settleToSign(room.shell, room.shopId, c.req.param('id'), how, room.actor);
    if (!done.ok) return back(c, '/to-sign', done.problems);
    return back(c, '/to-sign', {
      kind: 'done',
      text: how === 'signed' ? 'Signed.' : 'Turned down: whoever did it sees that on the case.',
    });
  });
}

function whatWords({ kind, detail, job_id, jobs, jobs_count: count }: WaitingToSign): string {
  const said = detail as Readonly<Record<string, unknown>>;
  if (kind === 'urgent closure') return `Closure after a danger sign, as “${String(said.outcome)}”`;
  if (kind === 'order')
    return job_id === null
      ? `Numbers of ${count === 1 ? 'one job' : `${count} jobs`} that came in together`
      : `Numbers of the new job ${jobs[0]?.job_key ?? ''}`.trim();
  const key = String(said.key ?? '');
  const eye = said.eye === 'R' || said.eye === 'L' ? ` ${said.eye}` : '';
  if (key === '') return KIND_WORDS[kind];
  return `${quantityOf(key)?.label ?? key.replaceAll('_', ' ')}${eye}: ${typeof said.value === 'object' ? JSON.stringify(said.value) : String(said.value)}`;
}
