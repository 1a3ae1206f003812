import { SettlingStrip } from '../pictures/strip/picture.tsx';
import { PostForm, Select, troubleOf } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { WearerView } from './view.ts';

/** One wearer: their pairs, how they may be reached and when, what was said. */
export function WearerPage(props: { shell: ShellView; view: WearerView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="wearer">
      <p class="lead">{view.localTime}.</p>
      <section aria-labelledby="pairs-heading">
        <h2 id="pairs-heading">Pairs</h2>
        {view.pairs.length === 0 ? <p class="soft">No pair has been handed over yet.</p> : null}
        {view.pairs.map((pair) => (
          <article class="pair">
            <h3>
              {pair.words}, <a href={pair.jobHref}>job {pair.jobNumber}</a>
            </h3>
            <SettlingStrip marks={pair.marks} stretches={pair.stretches} today={pair.day} name={pair.words} />
            <p>
              {pair.day === null ? 'Not worn yet' : `Day ${pair.day}`}; {pair.firstWorn}.{' '}
              {pair.outcome ? `Ended: ${pair.outcome}. ` : ''}
              {pair.caseHref ? <a href={pair.caseHref}>Open the case</a> : null}
            </p>
            <p class="soft">
              Plan {pair.plan}.{' '}
              {pair.planned.length > 0 ? `Next: ${pair.planned.join('; ')}.` : 'Nothing more is planned.'}
            </p>
          </article>
        ))}
      </section>
      <section aria-labelledby="reach-heading">
        <h2 id="reach-heading">How they are reached</h2>
        <WideTable label="Numbers and addresses" blocks>
          <table>
            <thead>
              <tr>
                <th scope="col">Way</th>
                <th scope="col">Address</th>
                <th scope="col">Consent</th>
                <th scope="col">Shared with</th>
                <th scope="col">
                  <span class="unseen">Stop</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {view.contacts.map((contact) => (
                <tr>
                  <th scope="row">{contact.channel}</th>
                  <td>
                    {contact.address}
                    {contact.unusable ? <span class="remark">{contact.unusable}</span> : null}
                  </td>
                  <td data-is="consent">{contact.consent}</td>
                  <td data-is="shared with">{contact.sharedWith.join(', ')}</td>
                  <td>
                    {contact.canStop ? (
                      <PostForm
                        action={`/wearers/${view.wearerId}/stop`}
                        csrf={shell.csrf}
                        class="one-button"
                      >
                        <input type="hidden" name="channel" value={contact.channel} />
                        <input type="hidden" name="why" value="said to staff" />
                        <button type="submit">
                          They said stop<span class="unseen"> to {contact.channel}</span>
                        </button>
                      </PostForm>
                    ) : null}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
        {view.contacts.length === 0 ? <p>No number and no address: never messaged.</p> : null}
        <PostForm action={`/wearers/${view.wearerId}/prefers`} csrf={shell.csrf} class="line-form">
          <Select
            name="prefers"
            id="prefers"
            label="Prefers"
            value={view.prefers}
            choices={[
              { value: 'text', words: 'texts' },
              { value: 'email', words: 'email' },
              { value: 'phone', words: 'a call' },
            ]}
          />
          <button type="submit">Keep</button>
        </PostForm>
      </section>
      <section aria-labelledby="zone-heading">
        <h2 id="zone-heading">Their clock</h2>
        <p>
          {view.zone.zones.map((zone) => zone.replaceAll('_', ' ')).join(' or ')} ({view.zone.how}).
          {view.zone.zones.length > 1 ? ' A message waits until it is a civil hour in each of them.' : ''}
        </p>
        <PostForm action={`/wearers/${view.wearerId}/zone`} csrf={shell.csrf} class="line-form">
          <Select
            name="time_zone"
            id="zone"
            label="Set the zone"
            value={view.zone.zones.length === 1 ? view.zone.zones[0] : ''}
            choices={[
              { value: '', words: 'work it out from the address' },
              ...view.timeZones.map((zone) => ({ value: zone, words: zone.replaceAll('_', ' ') })),
            ]}
            trouble={troubleOf(view.troubles, 'time_zone')}
          />
          <button type="submit">Keep</button>
        </PostForm>
      </section>
      <section aria-labelledby="said-heading">
        <h2 id="said-heading">Last said</h2>
        {view.said.length === 0 ? <p class="soft">Nothing yet.</p> : null}
        <ul class="said-list">
          {view.said.map((line) => (
            <li>
              <span class="when">
                {line.when}, {line.who}
              </span>
              <p lang={line.lang}>{line.text}</p>
            </li>
          ))}
        </ul>
      </section>
      <p>
        <a href={`/wearers/${view.wearerId}/records`}>
          All that is on record of them: take it out, or erase it
        </a>
      </p>
    </Shell>
  );
}
