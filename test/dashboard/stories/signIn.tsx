import type { JSX } from 'hono/jsx/jsx-runtime';
import { encodeQR } from 'qr';
import { ActAsPage } from '../../../dashboard/act-as/page.tsx';
import { MySignInPage } from '../../../dashboard/my-sign-in/page.tsx';
import { PeoplePage } from '../../../dashboard/people/page.tsx';
import { CodePage, CodesPage, FactorPage, JoinPage, SignInPage } from '../../../dashboard/sign-in/page.tsx';
import { ToSignPage } from '../../../dashboard/to-sign/page.tsx';
import { shell } from './shop.ts';

const around = { csrf: 'csrf-token', shopName: 'Lantern Street Opticians', troubles: [] };

/** Signing in, one's own sign-in, what waits to be signed. */
export const signInStories: Readonly<Record<string, () => JSX.Element>> = {
  'sign-in': () => <SignInPage view={{ ...around, values: {}, to: '/bench', nobodyYet: false }} />,
  'sign-in-refused': () => (
    <SignInPage
      view={{
        ...around,
        values: { email: 'ana@example.org' },
        to: '/bench',
        nobodyYet: true,
        troubles: [
          {
            field: 'password',
            text: 'Address and password do not go together. Try again. If it is forgotten, the owner makes you a new link on the page People.',
          },
        ],
      }}
    />
  ),
  'sign-in-code': () => <CodePage view={around} />,
  'sign-in-join': () => (
    <JoinPage
      view={{
        ...around,
        action: '/sign-in/link/invented',
        values: { name: 'Tom Reyes', email: 'tom@example.org' },
        troubles: [
          { field: 'password', text: 'The password has 9 letters. Take at least 12: four or five words do.' },
        ],
      }}
    />
  ),
  'sign-in-factor': () => (
    <FactorPage
      view={{
        ...around,
        secret: 'GEZD GNBV GY3T QOJQ GEZD GNBV GY3T QOJQ',
        squares: encodeQR('otpauth://totp/invented?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ', 'raw', {
          border: 4,
        }),
        mayWait: true,
      }}
    />
  ),
  'sign-in-recovery-codes': () => (
    <CodesPage
      view={{
        shopName: around.shopName,
        codes: Array.from({ length: 10 }, (_, at) => `inven-ted${at}${at}`),
      }}
    />
  ),
  'my-sign-in': () => (
    <MySignInPage
      shell={shell('My sign-in', '/my-sign-in')}
      view={{
        email: 'ana@example.org',
        passwordSince: '3 May',
        factorSince: '3 May',
        codesLeft: 9,
        sessions: [
          {
            id: 'a',
            about: 'Firefox, Windows',
            address: '127.0.0.1',
            since: 'today 8:58',
            seen: 'today 10:41',
            here: true,
          },
          {
            id: 'b',
            about: 'Safari, iPhone',
            address: '203.0.113.5',
            since: 'today 7:30',
            seen: 'today 7:44',
            here: false,
          },
        ],
        troubles: [],
      }}
    />
  ),
  'people-with-sign-in': () => (
    <PeoplePage
      shell={shell('People', '/people')}
      view={{
        people: [
          {
            personId: 'p-1',
            name: 'Ana Brook',
            email: 'ana@example.org',
            phone: '+1 303 555 0101',
            role: 'owner',
            licence: 'licensed until 30 Jun 2027',
            onCall: 1,
            active: true,
            signsIn: 'with a second factor; signed in now',
            signedIn: true,
          },
          {
            personId: 'p-2',
            name: 'Tom Reyes',
            email: '',
            phone: '',
            role: 'staff',
            licence: 'not licensed',
            onCall: null,
            active: true,
            signsIn: 'cannot sign in yet',
          },
        ],
        onCallTrouble: null,
        signInExists: true,
        fresh: { kind: 'link', whose: 'Tom Reyes', secret: 'https://pages.example/sign-in/link/invented' },
        tokens: [
          {
            tokenId: 't',
            name: 'till',
            may: 'take jobs in (POST /api/import)',
            made: '3 May, Ana Brook',
            used: 'never',
          },
        ],
        scopes: [
          { value: 'import', words: 'take jobs in (POST /api/import)' },
          { value: 'corrections', words: 'read corrections (GET /api/corrections)' },
        ],
        values: {},
        troubles: [],
      }}
    />
  ),
  'act-as': () => (
    <ActAsPage
      shell={shell('Act as somebody else', '/people')}
      view={{
        people: [
          {
            personId: 'p-1',
            name: 'Ana Brook',
            role: 'owner',
            licence: 'licensed until 30 Jun 2027',
            now: true,
          },
          { personId: 'p-2', name: 'Tom Reyes', role: 'staff', licence: 'not licensed', now: false },
        ],
      }}
    />
  ),
  'to-sign': () => (
    <ToSignPage
      shell={shell('To sign', '/to-sign')}
      view={{
        maySign: true,
        signers: ['Ana Brook'],
        waiting: [
          {
            id: 's-1',
            what: 'Closure after a danger sign, as “kept, not happy”',
            wearer: 'Ida Quill',
            href: '/cases/c-1',
            by: 'Tom Reyes, today 10:38',
          },
          {
            id: 's-2',
            what: 'Fitting height R: 18',
            wearer: 'Sam Vale',
            href: '/jobs/j-1',
            by: 'Tom Reyes, today 9:12',
          },
          {
            id: 's-3',
            what: 'Numbers of 2 jobs that came in together',
            wearer: '',
            href: '/jobs/null',
            jobs: [
              { words: 'J-11, Ida Quill', href: '/jobs/j-11' },
              { words: 'J-12, Sam Vale', href: '/jobs/j-12' },
            ],
            by: 'import, today 6:00',
          },
        ],
        papers: [
          {
            what: 'Order note for a remake',
            wearer: 'Ida Quill',
            href: '/cases/c-1/remake',
            by: 'Tom Reyes, yesterday 16:02',
          },
        ],
      }}
    />
  ),
  'to-sign-nobody': () => (
    <ToSignPage
      shell={shell('To sign', '/to-sign')}
      view={{ maySign: false, signers: [], waiting: [], papers: [] }}
    />
  ),
};
