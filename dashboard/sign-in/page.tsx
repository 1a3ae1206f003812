import { Field, PostForm, troubleOf, typedBefore } from '../pieces/form.tsx';
import { BarePage } from '../shell/page.tsx';
import type { CodesView, CodeView, FactorView, JoinView, SignInView } from './view.ts';

/** Address and password. */
export function SignInPage(props: { view: SignInView }) {
  const { view } = props;
  return (
    <BarePage title={`Sign in, ${view.shopName}`}>
      <div class="sign-in">
        <h1>{view.shopName}</h1>
        {view.nobodyYet ? (
          <p class="caution">
            Nobody can sign in yet. The owner’s one-time link stands in the window where Afterfit was started;
            the command <code>afterfit owner-link</code> prints a new one.
          </p>
        ) : null}
        <PostForm action="/sign-in" csrf={view.csrf}>
          <input type="hidden" name="to" value={view.to} />
          <Field
            name="email"
            id="s-email"
            label="Email"
            type="email"
            autocomplete="username"
            value={typedBefore(view.values, 'email')}
            trouble={troubleOf(view.troubles, 'email')}
          />
          <Field
            name="password"
            id="s-password"
            label="Password"
            type="password"
            autocomplete="current-password"
            trouble={troubleOf(view.troubles, 'password')}
          />
          <button type="submit" class="act">
            Sign in
          </button>
        </PostForm>
        <p class="soft">
          Forgotten? An owner makes you a new link on the page People. Owners who have forgotten their own
          type <code>afterfit owner-link</code> at the shop’s machine.
        </p>
      </div>
    </BarePage>
  );
}

/** The second factor, after the password. */
export function CodePage(props: { view: CodeView }) {
  const { view } = props;
  return (
    <BarePage title={`Second factor, ${view.shopName}`}>
      <div class="sign-in">
        <h1>Second factor</h1>
        <PostForm action="/sign-in/code" csrf={view.csrf}>
          <Field
            name="code"
            id="s-code"
            label="Code of your app, or a recovery code"
            autocomplete="one-time-code"
            trouble={troubleOf(view.troubles, 'code')}
          />
          <button type="submit" class="act">
            Go on
          </button>
        </PostForm>
        <p class="soft">
          Neither at hand? <a href="/sign-in">Begin again</a>, or ask an owner for a new link.
        </p>
      </div>
    </BarePage>
  );
}

/** What a one-time link leads to: a name, an address, a password of one's own. */
export function JoinPage(props: { view: JoinView }) {
  const { view } = props;
  const field = (name: string) => ({
    name,
    id: `j-${name}`,
    value: typedBefore(view.values, name),
    trouble: troubleOf(view.troubles, name),
  });
  return (
    <BarePage title={`Your sign-in, ${view.shopName}`}>
      <div class="sign-in">
        <h1>Your sign-in at {view.shopName}</h1>
        <p>What you do here stands on record under your name. This link works once.</p>
        {troubleOf(view.troubles, 'link') ? <p class="mend">{troubleOf(view.troubles, 'link')}</p> : null}
        <PostForm action={view.action} csrf={view.csrf}>
          <Field {...field('name')} label="Your name" autocomplete="name" />
          <Field {...field('email')} label="Email, to sign in with" type="email" autocomplete="username" />
          <Field
            {...field('password')}
            value=""
            label="Password"
            type="password"
            autocomplete="new-password"
            hint="At least 12 letters. Four or five words that do not belong together are easy to keep."
          />
          <Field
            {...field('password_again')}
            value=""
            label="The password again"
            type="password"
            autocomplete="new-password"
          />
          <button type="submit" class="act">
            Keep and go on
          </button>
        </PostForm>
      </div>
    </BarePage>
  );
}

/** Sets the second factor up: a picture for the app's camera, and the same secret in letters. */
export function FactorPage(props: { view: FactorView }) {
  const { view } = props;
  return (
    <BarePage title={`Second factor, ${view.shopName}`}>
      <div class="sign-in">
        <h1>Set up your second factor</h1>
        <p>
          A code from an app on your telephone, asked after the password: who steals or guesses the password
          still stays outside. It is needed to open the shop’s pages from anywhere but its own machine.
        </p>
        <ol class="steps">
          <li>
            Open a code app (any that makes six-figure one-time codes) and let it look at this picture.
            <Squares squares={view.squares} />
          </li>
          <li>
            Or type this secret into the app:
            <p class="secret">
              <code>{view.secret}</code>
            </p>
          </li>
          <li>
            Type the code that the app shows now.
            <PostForm action="/sign-in/second-factor" csrf={view.csrf}>
              <Field
                name="code"
                id="f-code"
                label="Code of the app"
                inputmode="numeric"
                autocomplete="one-time-code"
                trouble={troubleOf(view.troubles, 'code')}
              />
              <button type="submit" class="act">
                Turn it on
              </button>
            </PostForm>
          </li>
        </ol>
        {view.mayWait ? (
          <p>
            <a href="/bench">Later</a> <span class="soft">(then you can sign in only at this machine)</span>
          </p>
        ) : null}
      </div>
    </BarePage>
  );
}

/** Recovery codes, shown once. */
export function CodesPage(props: { view: CodesView }) {
  const { view } = props;
  return (
    <BarePage title={`Recovery codes, ${view.shopName}`}>
      <div class="sign-in">
        <h1>Your recovery codes</h1>
        <p>
          Each lets you in once without the app, after the password. Print this page or write them down and
          keep them where you keep the keys of the shop. They are not shown again.
        </p>
        <ol class="codes">
          {view.codes.map((code) => (
            <li>
              <code>{code}</code>
            </li>
          ))}
        </ol>
        <p class="screen-only">
          <a href="/bench" class="act">
            I have them: to the bench
          </a>
        </p>
      </div>
    </BarePage>
  );
}

/** The picture that a code app reads: dark squares on white, also for a reader who works in the dark. */
function Squares(props: { squares: readonly (readonly boolean[])[] }) {
  const size = props.squares.length;
  const path = props.squares
    .flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : '')))
    .join('');
  return (
    <svg class="squares" viewBox={`0 0 ${size} ${size}`} role="img" aria-labelledby="squares-title">
      <title id="squares-title">The secret as a picture for the camera of a code app</title>
      <rect width={size} height={size} fill="#fff" />
      <path d={path} fill="#000" shape-rendering="crispEdges" />
    </svg>
  );
}
