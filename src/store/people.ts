import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Person } from './shops.ts';

export type PersonData = {
  readonly name: string;
  readonly email: string | null;
  readonly phoneE164: string | null;
  readonly role: 'staff' | 'owner';
  readonly licenceNumber: string | null;
  readonly licensedUntil: string | null;
  readonly onCallOrder: number | null;
  /** Null: told at any hour. */
  readonly onCallHours: OnCallHours | null;
};

/** Days count from Monday = 1 to Sunday = 7; hours are full hours of the shop's clock. */
export type OnCallHours = {
  readonly days: readonly number[];
  readonly fromHour: number;
  readonly toHour: number;
};

/** All people of a shop, locked: two who change the row of those on call at once cannot take the same place. */
export async function lockPeople(trx: Trx, shopId: string): Promise<Person[]> {
  return trx
    .selectFrom('person')
    .selectAll()
    .where('shop_id', '=', shopId)
    .orderBy('created_at')
    .forUpdate()
    .execute();
}

const columnsOf = (data: PersonData) => ({
  name: data.name,
  email: data.email,
  phone_e164: data.phoneE164,
  role: data.role,
  licence_number: data.licenceNumber,
  licensed_until: data.licensedUntil,
  on_call_order: data.onCallOrder,
});

export async function addPerson(trx: Trx, shopId: string, data: PersonData, at: Date): Promise<string> {
  const personId = newId(at);
  await trx
    .insertInto('person')
    .values({ shop_id: shopId, person_id: personId, created_at: at, ...columnsOf(data) })
    .execute();
  await keepHours(trx, shopId, personId, data.onCallHours);
  return personId;
}

export async function changePerson(
  trx: Trx,
  shopId: string,
  personId: string,
  data: PersonData,
): Promise<void> {
  await trx
    .updateTable('person')
    .set(columnsOf(data))
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
  await keepHours(trx, shopId, personId, data.onCallHours);
}

async function keepHours(
  trx: Trx,
  shopId: string,
  personId: string,
  hours: OnCallHours | null,
): Promise<void> {
  await trx
    .deleteFrom('on_call_hours')
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
  if (hours === null) return;
  await trx
    .insertInto('on_call_hours')
    .values({
      shop_id: shopId,
      person_id: personId,
      days: [...hours.days],
      from_hour: hours.fromHour,
      to_hour: hours.toHour,
    })
    .execute();
}

/** The hours of those who are not told at any hour, by person. */
export async function onCallHoursOf(db: Db, shopId: string): Promise<ReadonlyMap<string, OnCallHours>> {
  const rows = await db.selectFrom('on_call_hours').selectAll().where('shop_id', '=', shopId).execute();
  return new Map(
    rows.map((row) => [row.person_id, { days: row.days, fromHour: row.from_hour, toHour: row.to_hour }]),
  );
}

/** Somebody who has left stays on record and is told nothing any more. */
export async function personLeft(trx: Trx, shopId: string, personId: string): Promise<void> {
  await trx
    .updateTable('person')
    .set({ active: false, on_call_order: null })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
}

/** What a person says of themselves when they join: their name and the address that they sign in with. */
export async function changePersonName(
  trx: Trx,
  shopId: string,
  personId: string,
  name: string,
  email: string,
): Promise<void> {
  await trx
    .updateTable('person')
    .set({ name, email })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .execute();
}
