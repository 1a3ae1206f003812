import type { Context, Hono } from 'hono';
import type { FieldTrouble, FormValues } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WelcomePage } from '../../../dashboard/welcome/page.tsx';
import { ownerLink } from '../../followup/signInLink.ts';
import { readPhone } from '../../intake/phone.ts';
import { readZone, zoneSet } from '../../intake/zones.ts';
import { field, type House, type Web } from '../web.ts';

const COUNTRIES = [
  { code: 'US', name: 'United States' },
  { code: 'CA', name: 'Canada' },
  { code: 'GB', name: 'United Kingdom' },
  { code: 'IE', name: 'Ireland' },
  { code: 'AU', name: 'Australia' },
  { code: 'NZ', name: 'New Zealand' },
  { code: 'IN', name: 'India' },
  { code: 'ES', name: 'Spain' },
  { code: 'MX', name: 'Mexico' },
] as const;

/** Asked once, on an empty data folder: look round an invented shop, or start one's own. */
export function welcomeRoutes(app: Hono<Web>, house: House): void {
  app.get('/welcome', (c) => (house.room() ? c.redirect('/bench', 303) : page(c, house)));
  app.post('/welcome', async (c) => {
    if (house.room()) return c.redirect('/bench', 303);
    if (field(c, 'choice') === 'invented') {
      await house.choose({ kind: 'invented' });
      return c.redirect('/welcome', 303);
    }
    const values = {
      name: field(c, 'name'),
      country: field(c, 'country') || 'US',
      time_zone: field(c, 'time_zone'),
      phone: field(c, 'phone'),
    };
    const troubles = troublesOf(values);
    if (troubles.length > 0) return page(c, house, values, troubles);
    await house.choose({
      kind: 'own',
      name: values.name,
      country: values.country,
      timeZone: values.time_zone,
      phone: values.phone,
    });
    const room = house.room();
    // Whoever chose sits at this machine, and nobody can sign in yet: they are the owner.
    const link = room && (await ownerLink(room.shell, room.shopId, { onlyFirst: true, dropsFactor: false }));
    return c.redirect(link ?? '/bench', 303);
  });
}

function troublesOf(values: {
  name: string;
  country: string;
  time_zone: string;
  phone: string;
}): FieldTrouble[] {
  const troubles: FieldTrouble[] = [];
  if (values.name === '' || values.name.length > 80) {
    troubles.push({
      field: 'name',
      text: 'Write the name of the shop as wearers know it, up to 80 letters.',
    });
  }
  if (!COUNTRIES.some((one) => one.code === values.country))
    troubles.push({ field: 'country', text: 'Choose a country of the list.' });
  const zone = readZone(values.time_zone);
  if (!zone.ok)
    troubles.push({ field: 'time_zone', text: `${zone.problems[0]!.what} ${zone.problems[0]!.mend}` });
  if (values.phone !== '') {
    const phone = readPhone(values.phone, values.country);
    if (!phone.ok)
      troubles.push({ field: 'phone', text: `${phone.problems[0]!.what} ${phone.problems[0]!.mend}` });
  }
  return troubles;
}

function page(
  c: Context<Web>,
  house: House,
  values: FormValues = {},
  troubles: readonly FieldTrouble[] = [],
) {
  const timeZones = [...new Set(COUNTRIES.flatMap((country) => zoneSet(country.code)))];
  const view = {
    csrf: c.get('csrf'),
    timeZones,
    countries: COUNTRIES,
    values,
    troubles,
    filling: house.filling,
  };
  return c.html(renderDocument(<WelcomePage view={view} />), troubles.length > 0 ? 400 : 200);
}
