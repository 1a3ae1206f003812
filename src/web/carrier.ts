import type { Hono } from 'hono';
import { formIsSigned } from '../channels/carrierSignature.ts';
import { STATUS_PATH } from '../channels/text.ts';
import { readStatus, receiveText } from '../channels/webhook.ts';
import type { TextLine } from '../followup/shell.ts';
import { takeText } from '../followup/takeText.ts';
import { takeTextStatus } from '../followup/textStatus.ts';
import { storable } from '../store/storable.ts';
import type { House, Web } from './web.ts';

export const TEXT_PATH = '/hooks/text';
const LARGEST_HOOK = 100_000;

/**
 * Where the carrier of texts calls us. Whoever calls must have signed the configured public address with the account's token;
 * nothing else is let in here, and no other page is reached this way.
 */
export function carrierHooks(app: Hono<Web>, house: House): void {
  app.post(TEXT_PATH, async (c) => {
    const line = lineOf(house);
    const room = house.room();
    if (!line || !room) return c.notFound();
    const form = await readForm(c.req.raw);
    const signed = form !== undefined && isSigned(line, c.req.raw, form);
    const answer = await receiveText(signed, single(form ?? {}), async (text) => {
      const { shell, shopId } = (await room.ofSender?.('text', text.from).catch(() => undefined)) ?? room;
      return (await takeText(shell, shopId, text)).kept;
    });
    return c.body(answer.body, answer.status as 200, { 'content-type': answer.contentType });
  });
  app.post(STATUS_PATH, async (c) => {
    const line = lineOf(house);
    const room = house.room();
    if (!line || !room) return c.notFound();
    const form = await readForm(c.req.raw);
    if (form === undefined || !isSigned(line, c.req.raw, form)) return c.text('Not signed.', 403);
    const event = readStatus(single(form), c.req.query('attempt') ?? null);
    if (!event) return c.text('Not a state of a message.', 400);
    const asked = c.req.query('shop');
    const { shell, shopId } = (asked === undefined ? undefined : await room.ofShop?.(asked)) ?? room;
    await takeTextStatus(shell, shopId, event);
    return c.body(null, 204);
  });
}

function lineOf(house: House): TextLine | undefined {
  const room = house.room();
  return room?.shell.textLine?.(room.shopId);
}

type Form = Readonly<Record<string, string | string[]>>;

function isSigned(line: TextLine, request: Request, form: Form): boolean {
  if (line.publicBase === undefined) return false;
  const asked = new URL(request.url);
  const url = `${line.publicBase}${asked.pathname}${asked.search}`;
  const signature = request.headers.get('x-twilio-signature') ?? undefined;
  return formIsSigned({ authToken: line.authToken, url, signature }, form);
}

/** Every parameter as it was signed; one that is there twice is a list. Undefined when it is too long to be from the carrier. */
async function readForm(request: Request): Promise<Form | undefined> {
  const body = await request.text();
  if (body.length > LARGEST_HOOK) return undefined;
  const params = new URLSearchParams(body);
  return Object.fromEntries(
    [...new Set(params.keys())].map((name) => {
      const values = params.getAll(name);
      return [name, values.length === 1 ? values[0]! : values];
    }),
  );
}

const single = (form: Form): Record<string, string> =>
  Object.fromEntries(
    Object.entries(form).map(([name, value]) => [
      name,
      storable(typeof value === 'string' ? value : (value[0] ?? '')),
    ]),
  );
