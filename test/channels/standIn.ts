import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { signatureOf } from '../../src/channels/carrierSignature.ts';

/** What the stand-in does with the next text that it is handed. */
export type NextTime =
  | { readonly does: 'takes it' }
  | { readonly does: 'takes it and drops the line' }
  | { readonly does: 'drops the line' }
  | { readonly does: 'refuses'; readonly status: number; readonly code?: number; readonly taken?: boolean };

export type Kept = {
  readonly sid: string;
  readonly to: string;
  readonly from: string;
  readonly body: string;
  readonly direction: 'outbound-api' | 'inbound';
  readonly createdMs: number;
  /** Until then the list does not show it. */
  readonly listedFromMs: number;
  readonly statusCallback: string | null;
  status: string;
  errorCode: number | null;
  numMedia: number;
  /** The pictures of a text that came in. */
  media: readonly Uint8Array[];
};

type Callback = {
  readonly url: string;
  readonly params: Readonly<Record<string, string>>;
  readonly signature: string;
};

/**
 * Speaks the carrier's published HTTP interface for messages (2010-04-01) on this machine: create, list and fetch, state
 * callbacks with signatures, and the troubles that real carriers make. Time and chance come from the caller.
 */
export async function startStandIn(options: {
  readonly accountSid: string;
  readonly authToken: string;
  readonly nowMs: () => number;
  /** How long a new text stays out of the list. */
  readonly lagMs?: () => number;
  /** What it does with a text where nothing was scripted. */
  readonly behave?: () => NextTime;
  /** Told of every text that it took, before it answers. */
  readonly onTaken?: (message: Kept) => void;
  /** While this says so every line is dropped before a word is read. */
  readonly isDown?: () => boolean;
}) {
  const kept: Kept[] = [];
  const script: NextTime[] = [];
  const callbacks: Callback[] = [];
  let requests = 0;
  const base = `/2010-04-01/Accounts/${options.accountSid}/Messages`;

  const server = createServer((request, response) => {
    requests += 1;
    if (options.isDown?.()) return void request.socket.destroy();
    handle(request, response).catch(() => response.destroy());
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

  async function handle(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (request.url?.startsWith('/files/') && request.headers.authorization !== undefined)
      return answer(response, 400, fault(400, 400, 'no sign-in is wanted here'));
    const expected = `Basic ${Buffer.from(`${options.accountSid}:${options.authToken}`).toString('base64')}`;
    if (request.headers.authorization !== expected && !request.url?.startsWith('/files/'))
      return answer(response, 401, fault(401, 20003, 'Authenticate'));
    const url = new URL(request.url ?? '/', origin);
    if (request.method === 'POST' && url.pathname === `${base}.json`) return create(request, response);
    if (request.method === 'GET' && url.pathname === `${base}.json`) return list(url, response);
    const file = /^\/files\/(SM\d+)\/(\d+)$/.exec(url.pathname);
    const of = (sid: string | undefined) => kept.find((message) => message.sid === sid);
    if (file) {
      const bytes = of(file[1])?.media[Number(file[2])];
      return void (bytes
        ? response.writeHead(200, { 'content-type': 'application/octet-stream' }).end(bytes)
        : response.writeHead(404).end());
    }
    const media = new RegExp(`^${base}/(SM\\d+)/Media(?:/ME(\\d+))?(\\.json)?$`).exec(url.pathname);
    if (media?.[2] !== undefined && media[3] === undefined) {
      // As the carrier does: the bytes lie elsewhere, and are had there without a sign-in.
      response
        .writeHead(307, {
          location: `${origin.replace('127.0.0.1', 'localhost')}/files/${media[1]}/${Number(media[2])}`,
        })
        .end();
      return;
    }
    if (media) return answer(response, 200, mediaList(of(media[1])));
    const one = kept.find((message) => url.pathname === `${base}/${message.sid}.json`);
    return one ? answer(response, 200, asJson(one)) : answer(response, 404, fault(404, 20404, 'not found'));
  }

  async function create(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const form = new URLSearchParams(await bodyOf(request));
    const next = script.shift() ?? options.behave?.() ?? { does: 'takes it' };
    if (next.does === 'drops the line') {
      response.destroy();
      return;
    }
    if (next.does === 'refuses' && !next.taken) {
      return answer(response, next.status, fault(next.status, next.code ?? next.status, 'refused'));
    }
    const message = keep({
      to: form.get('To') ?? '',
      from: form.get('From') ?? form.get('MessagingServiceSid') ?? '',
      body: form.get('Body') ?? '',
      direction: 'outbound-api',
      statusCallback: form.get('StatusCallback'),
      status: 'queued',
    });
    options.onTaken?.(message);
    if (next.does === 'takes it and drops the line') {
      response.destroy();
      return;
    }
    if (next.does === 'refuses')
      return answer(response, next.status, fault(next.status, next.code ?? next.status, 'late fault'));
    return answer(response, 201, asJson(message));
  }

  const mediaList = (message: Kept | undefined) => ({
    media_list: (message?.media ?? []).map((_, at) => ({
      sid: `ME${String(at).padStart(32, '0')}`,
      account_sid: options.accountSid,
      parent_sid: message!.sid,
      content_type: 'image/jpeg',
      date_created: new Date(message!.createdMs).toUTCString().replace('GMT', '+0000'),
      date_updated: new Date(message!.createdMs).toUTCString().replace('GMT', '+0000'),
      uri: `${base}/${message!.sid}/Media/ME${String(at).padStart(32, '0')}.json`,
    })),
    first_page_uri: '',
    next_page_uri: null,
    previous_page_uri: null,
    page: 0,
    page_size: 50,
    uri: '',
  });

  function list(url: URL, response: ServerResponse): void {
    const to = url.searchParams.get('To');
    const after = url.searchParams.get('DateSent>');
    const messages = kept
      .filter((one) => options.nowMs() >= one.listedFromMs)
      .filter((one) => to === null || one.to === to)
      .filter((one) => after === null || one.createdMs > Date.parse(after))
      .sort((one, other) => other.createdMs - one.createdMs);
    answer(response, 200, {
      messages: messages.map(asJson),
      first_page_uri: url.pathname,
      next_page_uri: null,
      previous_page_uri: null,
      page: 0,
      page_size: 50,
      uri: url.pathname,
    });
  }

  function keep(
    of: Omit<Kept, 'sid' | 'createdMs' | 'listedFromMs' | 'errorCode' | 'numMedia' | 'media'> & {
      readonly media?: readonly Uint8Array[];
    },
  ): Kept {
    const createdMs = options.nowMs();
    const message: Kept = {
      ...of,
      sid: `SM${String(kept.length + 1).padStart(32, '0')}`,
      createdMs,
      listedFromMs: createdMs + (options.lagMs?.() ?? 0),
      errorCode: null,
      numMedia: of.media?.length ?? 0,
      media: of.media ?? [],
    };
    kept.push(message);
    return message;
  }

  /** Moves a text on, as the network would; the callback is kept for the test to post, to lose, to double or to shuffle. */
  function moveOn(sid: string, status: string, errorCode?: number): void {
    const message = kept.find((one) => one.sid === sid)!;
    message.status = status;
    message.errorCode = errorCode ?? null;
    if (!message.statusCallback) return;
    const params = {
      MessageSid: sid,
      MessageStatus: status,
      To: message.to,
      From: message.from,
      AccountSid: options.accountSid,
      ...(errorCode ? { ErrorCode: String(errorCode) } : {}),
    };
    callbacks.push({
      url: message.statusCallback,
      params,
      signature: signatureOf(options.authToken, message.statusCallback, params),
    });
  }

  return {
    origin,
    kept: kept as readonly Kept[],
    callbacks: callbacks as readonly Callback[],
    requests: () => requests,
    next: (...times: readonly NextTime[]) => script.push(...times),
    moveOn,
    /** A wearer writes. */
    receive: (from: string, to: string, body: string, media: readonly Uint8Array[] = []) =>
      keep({ to, from, body, direction: 'inbound', statusCallback: null, status: 'received', media }),
    stop: () =>
      new Promise<void>((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}

const fault = (status: number, code: number, message: string) => ({ code, message, more_info: '', status });

function asJson(one: Kept) {
  const at = new Date(one.createdMs).toUTCString().replace('GMT', '+0000');
  return {
    sid: one.sid,
    to: one.to,
    from: one.from,
    body: one.body,
    status: one.status,
    direction: one.direction,
    date_created: at,
    date_sent: at,
    date_updated: at,
    num_media: String(one.numMedia),
    num_segments: '1',
    error_code: one.errorCode,
    error_message: null,
    messaging_service_sid: null,
    price: null,
    price_unit: 'USD',
    api_version: '2010-04-01',
    subresource_uris: {},
  };
}

function answer(response: ServerResponse, status: number, body: object): void {
  response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const pieces: Buffer[] = [];
  for await (const piece of request) pieces.push(piece as Buffer);
  return Buffer.concat(pieces).toString('utf8');
}
