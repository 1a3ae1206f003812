import type { Context, Hono, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { secureHeaders } from 'hono/secure-headers';
import { hashOf } from '../followup/secrets.ts';
import type { Problem } from '../problems.ts';
import { callerOf } from './caller.ts';
import { throttle } from './throttle.ts';
import { trouble } from './trouble.tsx';
import type { House, Web } from './web.ts';

const MB = 1024 * 1024;
/** Files of jobs and pictures; forms of words; what a carrier posts; and what somebody unknown may send. */
const LARGEST_FILE = 25 * MB;
const LARGEST_FORM = MB;
const LARGEST_HOOK = 100_000;
const LARGEST_SIGN_IN = 20_000;

/** Sign-ins and links a minute from one address: those who guess are slowed before a password is worked on. */
const SIGN_INS_A_MINUTE = 60;
/** Forms a minute from one address: more than a busy shop behind one line presses. */
const FORMS_A_MINUTE = 600;
/** What one token of a program may ask in a minute, from wherever it does. Our own choice, no source. */
const CALLS_A_MINUTE = 120;

/** What holds for every answer, whoever asks: headers, sizes, and how often. Also finds out who asks. */
export function guards(app: Hono<Web>, house: House, nowMs: () => number): void {
  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'none'"],
        styleSrc: ["'self'"],
        scriptSrc: ["'self'"],
        connectSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
      },
      permissionsPolicy: { camera: [], microphone: [], geolocation: [], payment: [], usb: [] },
      referrerPolicy: 'no-referrer',
      strictTransportSecurity: false,
    }),
  );
  const maySignIn = throttle(SIGN_INS_A_MINUTE, nowMs);
  const mayPost = throttle(FORMS_A_MINUTE, nowMs);
  const mayCall = throttle(CALLS_A_MINUTE, nowMs);
  app.use(async (c, next) => {
    const caller = callerOf(c, house);
    c.set('caller', caller);
    const changes = c.req.method !== 'GET' && c.req.method !== 'HEAD';
    const signsIn = c.req.path.startsWith('/sign-in');
    // Carriers must not be turned away, and sign; the wearers' pages count for themselves.
    const countsItself = c.req.path.startsWith('/hooks/') || c.req.path.startsWith('/w/');
    if (changes && !countsItself && !(signsIn ? maySignIn : mayPost)(caller.address)) {
      c.header('Retry-After', '60');
      return trouble(c, 429, 'That was too often in one minute.', 'Wait a minute, then try again.');
    }
    const bearer = c.req.path.startsWith('/api/') ? c.req.header('authorization') : undefined;
    if (bearer !== undefined && !mayCall(hashOf(bearer))) {
      c.header('Retry-After', '60');
      return c.json({ error: TOO_MANY_CALLS }, 429);
    }
    // No address of ours has the sign with number zero, and the database cannot look for it.
    if (/%00|\0/.test(c.req.url))
      return trouble(c, 400, 'This address is not one of ours.', 'Go on from the bench.');
    await next();
    // Pages hold what wearers said: neither a browser nor a proxy keeps them.
    if (!c.res.headers.has('cache-control')) c.header('cache-control', 'no-store');
    // What programs ask for is never shown by a browser as a page.
    if (c.req.path.startsWith('/api/')) c.header('content-disposition', 'attachment; filename="answer.json"');
    if (caller.encrypted) c.header('strict-transport-security', 'max-age=31536000');
  });
  app.use(largest());
}

const TOO_MANY_CALLS: Problem = {
  code: 'too-often',
  what: `This token asked more than ${CALLS_A_MINUTE} times in one minute.`,
  where: 'authorization',
  mend: 'Wait a minute, then go on.',
};

function largest(): MiddlewareHandler<Web> {
  const of = (maxSize: number) =>
    bodyLimit({
      maxSize,
      onError: (c) =>
        trouble(
          c as Context<Web>,
          413,
          'What was sent is too large.',
          `At most ${maxSize >= MB ? `${maxSize / MB} MB` : `${maxSize / 1000} kB`}; split it and send the parts.`,
        ),
    });
  const [file, form, hook, signIn] = [LARGEST_FILE, LARGEST_FORM, LARGEST_HOOK, LARGEST_SIGN_IN].map(of);
  return (c, next) => {
    const { path } = c.req;
    if (path.startsWith('/sign-in')) return signIn!(c, next);
    if (path.startsWith('/hooks/')) return hook!(c, next);
    const plain = c.req.header('content-type')?.startsWith('application/x-www-form-urlencoded');
    return (plain ? form! : file!)(c, next);
  };
}
