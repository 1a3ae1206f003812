import { keepLab, keepLabTerm } from '../followup/keepLab.ts';
import { keepPerson } from '../followup/keepPerson.ts';
import { keepShop } from '../followup/keepShop.ts';
import { keepAnswer } from '../followup/keptAnswers.ts';
import { addDays, localDay } from '../followup/planSlots.ts';
import type { Shell } from '../followup/shell.ts';
import type { Checked } from '../problems.ts';
import { people } from '../store/shops.ts';
import { FITTER, HELPER, NEAR_LAB, OWNER, POST_LAB } from './invented.ts';
import { INVENTED_SHOP } from './shop.ts';

const SHOP = INVENTED_SHOP.shopId;

/** Who works there, by what licence, and what its labs allow: typed in on the first day, as a new shop would. */
export async function openInventedShop(shell: Shell): Promise<void> {
  const day = localDay(shell.clock.now(), INVENTED_SHOP.timeZone);
  const owner = (await people(shell.db, SHOP)).find((one) => one.name === OWNER)!;
  const licence = (number: string, days: number) => ({
    licence_number: number,
    licensed_until: addDays(day, days),
  });
  const staff: readonly (readonly [string | null, Record<string, string>])[] = [
    [
      owner.person_id,
      {
        name: OWNER,
        role: 'owner',
        email: 'ada@lantern-street.example',
        phone: '+1 202-555-0101',
        on_call_order: '1',
        ...licence('invented 4711', 400),
      },
    ],
    [null, { name: FITTER, phone: '+1 202-555-0102', on_call_order: '2', ...licence('invented 4712', 250) }],
    [null, { name: HELPER, phone: '+1 202-555-0103' }],
    // Ran out some weeks ago: nothing can be signed by that name until it is renewed.
    [null, { name: 'Lou Pattern', ...licence('invented 4713', 45) }],
  ];
  for (const [personId, typed] of staff) done(await keepPerson(shell, SHOP, personId, typed, OWNER));
  for (const name of [NEAR_LAB, POST_LAB]) done(await keepLab(shell, SHOP, name, OWNER));
  const labs = await shell.db
    .selectFrom('lab')
    .select(['lab_id', 'name'])
    .where('shop_id', '=', SHOP)
    .execute();
  const terms = [
    [NEAR_LAB, { what: 'settling', days: '60', from: 'lab invoiced', times: '1' }],
    [NEAR_LAB, { what: 'made wrong', days: '365', from: 'lab invoiced', times: '9' }],
    [POST_LAB, { what: 'settling', days: '30', from: 'ordered', times: '1' }],
    [POST_LAB, { what: 'coating', days: '365', from: 'handed over', times: '1' }],
  ] as const;
  for (const [name, term] of terms) {
    const lab = labs.find((one) => one.name === name)!;
    done(await keepLabTerm(shell, SHOP, lab.lab_id, term, OWNER));
  }
  const costs = {
    lenses_per_remake: '96',
    staff_hours_per_return: '0.8',
    staff_cost_per_hour: '24',
    postage_per_return: '9',
  };
  done(await keepShop(shell, SHOP, 'costs', costs, OWNER));
  const answer = { ask: 'returns', locale: 'en', text: 'We make a pair again once within 60 days.' };
  done(await keepAnswer(shell, SHOP, answer, OWNER));
}

function done(checked: Checked<unknown>): void {
  if (!checked.ok) throw new Error(`the invented shop cannot open: ${JSON.stringify(checked.problems)}`);
}
