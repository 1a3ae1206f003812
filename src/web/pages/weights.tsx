import type { Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WeightsPage } from '../../../dashboard/weights/page.tsx';
import type { WeightsView } from '../../../dashboard/weights/view.ts';
import { causeName } from '../../causes/catalogue/names.ts';
import { moveWeight, shopWeights } from '../../followup/shopWeights.ts';
import { confirmedOutcomes, suggestionsTaken } from '../../store/weights.ts';
import { shortDay } from '../format.ts';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { ACT_WORDS } from './views.ts';

const SHOWN = 100;

/** How the shop's own outcomes move the weights of the causes, and how often staff changed what was suggested. */
export function weightsRoutes(app: Hono<Web>): void {
  app.get('/weights', async (c) => {
    const { shell } = await loadShell(c, 'Weights', '/weights');
    const { shell: works, shopId } = c.get('room');
    const learned = await shopWeights(works.db, shopId);
    const view: WeightsView = {
      counted: `${learned.casesCounted} outcomes of this shop count beside 100 cases that stand for the catalogue (common practice, no source).`,
      moved: learned.moved
        .filter(({ cases }) => cases > 0)
        .map(({ cause, from, to, cases }) => ({
          cause: causeName(cause),
          from: from.toFixed(2),
          to: to.toFixed(2),
          cases,
        })),
      outcomes: (await confirmedOutcomes(works.db, shopId, SHOWN)).map((row) => ({
        pairId: row.pair_id,
        wearer: row.wearer,
        job: row.job_key,
        cause: causeName(row.cause),
        how: row.how,
        when: `${shortDay(row.on_day)}, ${row.by_name}`,
        leftOut: row.left_out,
      })),
      suggestions: (await suggestionsTaken(works.db, shopId)).map(({ suggested, chosen, changed }) => ({
        act: ACT_WORDS[suggested] ?? suggested,
        taken: chosen,
        changed,
      })),
    };
    return c.html(renderDocument(<WeightsPage shell={shell} view={view} />));
  });
  app.post('/weights', async (c) => {
    const room = c.get('room');
    const act = field(c, 'act') === 'counted again' ? 'counted again' : 'left out';
    const by = await personName(room);
    const done = await moveWeight(room.shell, room.shopId, field(c, 'pair_id'), act, by);
    return back(
      c,
      '/weights',
      done.ok
        ? { kind: 'done', text: 'Noted. It holds from the next weighing; what was kept stays.' }
        : done.problems,
    );
  });
}
