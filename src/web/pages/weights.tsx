import type { Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WeightsPage } from '../../../dashboard/weights/page.tsx';
import type { WeightsView } from '../../../dashboard/weights/view.ts';
import { CATALOGUE } from '../../causes/catalogue/index.ts';
import { causeName } from '../../causes/catalogue/names.ts';
import { PRIOR_WORTH_CASES } from '../../causes/learnWeights.ts';
import { moveWeight, shopWeights } from '../../followup/shopWeights.ts';
import { confirmedOutcomes, type SuggestionRow, suggestionsTaken } from '../../store/weights.ts';
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
    const suggestions = await suggestionsTaken(works.db, shopId);
    const ofHundred = (weight: number) => (100 * weight) / WHOLE_WEIGHT;
    const view: WeightsView = {
      counted: learned.casesCounted,
      priorCases: PRIOR_WORTH_CASES,
      moved: learned.moved
        .filter(({ cases }) => cases > 0)
        .map(({ cause, from, to, cases }) => ({
          cause: causeName(cause),
          catalogue: ofHundred(from),
          here: ofHundred(to),
          cases,
          words: `here ${ofHundred(to).toFixed(1)} in 100, in the catalogue ${ofHundred(from).toFixed(1)}`,
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
      changedWords: changedWords(suggestions),
      suggestions: suggestions.map(({ suggested, chosen, changed }) => ({
        act: ACT_WORDS[suggested] ?? suggested,
        suggested: chosen + changed,
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

const WHOLE_WEIGHT = CATALOGUE.reduce((sum, { startingWeight }) => sum + startingWeight, 0);

function changedWords(rows: readonly SuggestionRow[]): string {
  const changed = rows.reduce((sum, row) => sum + row.changed, 0);
  const all = rows.reduce((sum, row) => sum + row.chosen + row.changed, 0);
  if (all === 0) return 'Nothing was done on a case yet.';
  return `${changed} of ${all}: ${changed === 0 ? 'what was suggested was done each time' : 'something else was done than was suggested'}.`;
}
