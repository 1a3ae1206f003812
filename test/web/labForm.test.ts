import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Database } from '../../src/store/database.ts';
import { freshDatabase } from '../setup/databases.ts';
import { openScreen, type Screen, SHOP, seen } from './screen.ts';

let database: Database;
let screen: Screen;
beforeAll(async () => {
  database = await freshDatabase('embedded');
});
beforeEach(async () => {
  screen = await openScreen(database);
});
afterAll(() => database.close());

async function job(columns = '', values = ''): Promise<string> {
  await screen.post('/deliveries/import', {
    step: 'take',
    checked_text: `job number,name,phone,consent,lens design,order R,order L,index${columns}\nJ-7,Ida Quill,202 555 0117,,soft 15,-6.00,-5.00,1.6${values}`,
    date_order: 'ymd',
  });
  const row = await database.db.selectFrom('job').select('job_id').executeTakeFirstOrThrow();
  return `/jobs/${row.job_id}/lab-form`;
}

const facts = async () =>
  (
    await database.db
      .selectFrom('fact')
      .select(['key', 'eye', 'value', 'source', 'by_name'])
      .where('shop_id', '=', SHOP)
      .where('how', '=', 'typed from the lab’s form')
      .orderBy('key')
      .orderBy('eye')
      .execute()
  ).map(({ key, eye, value, source }) => [key, eye, value, source]);

describe('the lab’s paper form', () => {
  test('is laid out as labs print it: ordered over as worn, right over left', async () => {
    const { html } = await screen.get(await job());
    expect(seen(html)).toMatch(/Sphere Cylinder Axis Add Prism.*Ordered R.*Ordered L.*As worn R.*As worn L/s);
    const order = [...html.matchAll(/name="(order|as_worn)_(R|L)_sphere"/g)].map(
      ([, key, eye]) => `${key} ${eye}`,
    );
    expect(order).toEqual(['order R', 'order L', 'as_worn R', 'as_worn L']);
  });

  test('a lens worn 2 mm closer than it was refracted at: −6.00 becomes −5.93, and that is what the line says', async () => {
    // F / (1 − dF) with d from the lens towards the eye: −6 / (1 + 0.002 × 6) = −5.93 D (NFOS opticianry course, module 11a).
    const path = await job();
    const { html, status } = await screen.post(path, {
      step: 'look',
      as_worn_R_sphere: '-5.93',
      refracted_vertex_mm: '14',
      vertex_assumed_mm: '12',
      tilt_assumed_deg: '0',
      wrap_assumed_deg: '0',
    });
    expect(status).toBe(200);
    const text = seen(html);
    expect(text).toContain('for the vertex distance -5.93');
    expect(text).toContain('worn 2 mm closer than refracted');
    expect(text).toContain('R: the lab’s powers are explained (0.00 D left over)');
    expect(await facts()).toEqual([]);
  });

  test('a quarter dioptre that nothing explains is said, and an order that is not ours too', async () => {
    const { html } = await screen.post(await job(), {
      step: 'look',
      order_R_sphere: '-6.25',
      as_worn_R_sphere: '-6.25',
      as_worn_L_sphere: '-5.25',
    });
    const text = seen(html);
    expect(text).toContain('R: the lab’s form has the order -6.25; ours is -6.00. Ask the lab');
    expect(text).toContain('L: the lab’s powers are not explained: 0.25 D left over');
    expect(text).toContain('The tilt is not known');
  });

  test('kept: as-worn powers and position of wear stand as the lab’s, our order stays ours', async () => {
    const path = await job();
    const { then } = await screen.post(path, {
      step: 'keep',
      order_R_sphere: '-6.25',
      as_worn_R_sphere: '-5.87',
      as_worn_R_cylinder: '-0.12',
      as_worn_R_axis: '180',
      as_worn_add_D_R: '2.12',
      as_worn_prism_R: '0.5 down',
      tilt_assumed_deg: '9',
    });
    expect(seen(then!.html)).toContain('numbers of the lab’s form are noted');
    expect(await facts()).toEqual([
      ['as_worn', 'R', [-5.87, -0.12, 180], 'lab form'],
      ['as_worn_add_D', 'R', 2.12, 'lab form'],
      ['as_worn_prism_in_pd', 'R', 0, 'lab form'],
      ['as_worn_prism_up_pd', 'R', -0.5, 'lab form'],
      ['tilt_assumed_deg', null, 9, 'lab form'],
    ]);
    expect(seen((await screen.get(path)).html)).toContain('for tilt and wrap');
  });

  test('a sphere of 60 and a vertex of 60 mm are refused at their fields, nothing is kept and nothing typed is lost', async () => {
    const { html, status } = await screen.post(await job(), {
      step: 'keep',
      as_worn_R_sphere: '60',
      refracted_vertex_mm: '60',
    });
    expect(status).toBe(400);
    expect(html).toMatch(/name="as_worn_R_sphere"[^>]*aria-invalid="true"/);
    expect(seen(html)).toContain('Allowed: 5 to 25 mm');
    expect(html).toContain('value="60"');
    expect(await facts()).toEqual([]);
  });

  test('an empty form keeps nothing and says what is missing', async () => {
    const { html, status } = await screen.post(await job(), { step: 'keep' });
    expect(status).toBe(400);
    expect(seen(html)).toContain('There is nothing new on the form.');
  });
});
