import { Field, PostForm, Select, troubleOf, typedBefore } from '../pieces/form.tsx';
import { BarePage } from '../shell/page.tsx';
import type { WelcomeView } from './view.ts';

/** Asked once: look round an invented shop, or start one's own. */
export function WelcomePage(props: { view: WelcomeView }) {
  const { view } = props;
  if (view.filling !== null) {
    return (
      <BarePage title="Filling the invented shop" reloadSeconds={2}>
        <h1>Filling the invented shop</h1>
        <p class="lead">{view.filling.words}</p>
        <p>
          <progress max={view.filling.of} value={view.filling.done} aria-label="Progress" />{' '}
          {view.filling.done} of {view.filling.of}
        </p>
        <p>
          <a href="/welcome">Look again</a>
        </p>
      </BarePage>
    );
  }
  return (
    <BarePage title="Afterfit: which shop?">
      <h1>Afterfit</h1>
      <p class="lead">
        It writes to wearers of new glasses on the right days, reads what they answer in their own words, and
        shows you who is in trouble, what is probably wrong, and what to do before the remake window closes.
      </p>
      <div class="two-ways">
        <section aria-labelledby="look-heading">
          <h2 id="look-heading">Look round an invented shop</h2>
          <p>
            Nobody in it is real and nothing leaves this computer. Two pretend telephones and a mailbox let
            you answer as the wearer, and you may move the clock. It has a data folder of its own.
          </p>
          <PostForm action="/welcome" csrf={view.csrf} class="one-button">
            <input type="hidden" name="choice" value="invented" />
            <button type="submit" class="act">
              Look round
            </button>
          </PostForm>
        </section>
        <section aria-labelledby="own-heading">
          <h2 id="own-heading">Start my own shop</h2>
          <PostForm action="/welcome" csrf={view.csrf}>
            <input type="hidden" name="choice" value="own" />
            <Field
              name="name"
              id="own-name"
              label="Name of the shop, as wearers know it"
              required
              value={typedBefore(view.values, 'name')}
              trouble={troubleOf(view.troubles, 'name')}
            />
            <Select
              name="country"
              id="own-country"
              label="Country"
              choices={view.countries.map((country) => ({ value: country.code, words: country.name }))}
              value={typedBefore(view.values, 'country')}
              trouble={troubleOf(view.troubles, 'country')}
            />
            <Select
              name="time_zone"
              id="own-zone"
              label="Time zone of the shop"
              choices={view.timeZones.map((zone) => ({ value: zone, words: zone.replaceAll('_', ' ') }))}
              value={typedBefore(view.values, 'time_zone')}
              trouble={troubleOf(view.troubles, 'time_zone')}
            />
            <Field
              name="phone"
              id="own-phone"
              label="Number that wearers may ring"
              type="tel"
              value={typedBefore(view.values, 'phone')}
              trouble={troubleOf(view.troubles, 'phone')}
            />
            <button type="submit">Start</button>
          </PostForm>
          <p class="soft">
            Messages stay on this computer, in the rehearsal, until you set up a carrier and a mail server.
          </p>
        </section>
      </div>
    </BarePage>
  );
}
