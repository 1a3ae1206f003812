import { AdaptSvgs } from '../pictures/adapt/picture.tsx';
import { DriftSvg } from '../pictures/drift/picture.tsx';
import { FunnelSvg } from '../pictures/funnel/picture.tsx';
import { MonthsSvg } from '../pictures/months/picture.tsx';
import { RateStrips } from '../pictures/rates/picture.tsx';
import { PostForm, Select } from '../pieces/form.tsx';
import { WideTable } from '../pieces/table.tsx';
import { Shell } from '../shell/page.tsx';
import type { ShellView } from '../shell/view.ts';
import type { LensDesignsView, OfferedWarning, Said } from './view.ts';

/** Which designs, measurements and habits make remakes, told honestly from small numbers. */
export function LensDesignsPage(props: { shell: ShellView; view: LensDesignsView }) {
  const { shell, view } = props;
  return (
    <Shell shell={shell} class="lens-designs">
      <p class="lead">{view.denominator}</p>
      {view.behind ? <p class="notice">{view.behind}</p> : null}
      {view.tooFew ? <p class="quiet">{view.tooFew}</p> : null}
      <Part heading="This month" id="month">
        <Sentences said={view.month} otherwise="Nothing this month is more than luck." />
        <ul class="papers">
          <li>
            <a href="/lens-designs/month">Month sheet, to print</a>
          </li>
          <li>
            <a href="/lens-designs.csv">All rates as a file</a>
          </li>
        </ul>
      </Part>
      <form method="get" action="/lens-designs" class="line-form">
        <Select name="by" id="by" label="Rates by" choices={view.groupings} value={view.by} />
        <Select
          name="reasons"
          id="reasons"
          label="Counted"
          choices={[
            { value: 'settling', words: 'came back because of seeing or settling' },
            { value: 'all', words: 'came back for any reason' },
          ]}
          value={view.reasons}
        />
        <button type="submit">Show</button>
      </form>
      {view.funnel && view.funnel.points.length > 0 ? (
        <Part heading="More than luck?" id="luck">
          <FunnelSvg picture={view.funnel} id="funnel" />
        </Part>
      ) : null}
      {view.months ? (
        <Part heading="Month by month" id="months">
          <MonthsSvg picture={view.months} id="months-picture" />
        </Part>
      ) : null}
      {view.rates.length > 0 ? <Rates view={view} /> : null}
      {view.drift ? (
        <Part heading="Has it moved?" id="drift">
          <DriftSvg picture={view.drift} id="drift-picture" />
        </Part>
      ) : null}
      {view.adapt.length > 0 ? (
        <Part heading="How soon they settle" id="adapt">
          <AdaptSvgs pictures={view.adapt} under={view.adaptUnder} />
        </Part>
      ) : null}
      <Part heading="Why pairs came back" id="causes">
        <Sentences said={view.causes} otherwise="No pair has come back yet." />
      </Part>
      <Part heading="Our own measuring" id="bias">
        {view.bias.length === 0 ? <p class="soft">Too few pairs were measured again to say.</p> : null}
        <ul class="sentences">
          {view.bias.map((line) => (
            <li>
              <Sentence said={line} />
              {line.warning ? <Warning warning={line.warning} csrf={shell.csrf} /> : null}
            </li>
          ))}
        </ul>
        <p class="hint">{view.biasUnder}</p>
      </Part>
      <Part heading="How often the suggestion was right" id="right">
        <Sentences said={view.suggestionRight} otherwise="No cause has been made sure of yet." />
      </Part>
      <Part heading="Money" id="money">
        <Sentences said={view.money} otherwise="Nothing to count yet." />
        {view.notCounted.length > 0 ? (
          <p class="hint">
            Not counted, because it is empty under <a href="/shop">Shop</a>: {view.notCounted.join(', ')}.
          </p>
        ) : null}
      </Part>
      <Part heading="Two side by side" id="two">
        <form method="get" action="/lens-designs#two-heading" class="line-form">
          <input type="hidden" name="by" value={view.by} />
          <input type="hidden" name="reasons" value={view.reasons} />
          <Select
            name="first"
            id="first"
            label="First"
            choices={view.compare.groups.map((group) => ({ value: group, words: group }))}
            value={view.compare.first}
          />
          <Select
            name="second"
            id="second"
            label="Second"
            choices={view.compare.groups.map((group) => ({ value: group, words: group }))}
            value={view.compare.second}
          />
          <button type="submit">Compare</button>
        </form>
        <Sentences said={view.compare.says} otherwise="Choose two." />
      </Part>
    </Shell>
  );
}

/** Offered, or on: one button, and what is said at the order. */
function Warning(props: { warning: OfferedWarning; csrf: string }) {
  const { warning, csrf } = props;
  return (
    <PostForm action="/lens-designs/warning" csrf={csrf} class="line-form">
      <span class="remark">{warning.words}</span>
      <input type="hidden" name="what" value={warning.what} />
      <input type="hidden" name="how" value={warning.how} />
      <input type="hidden" name="on" value={warning.on ? 'no' : 'yes'} />
      <button type="submit">{warning.on ? 'Stop warning at the order' : 'Warn at the order'}</button>
    </PostForm>
  );
}

function Part(props: { heading: string; id: string; children?: unknown }) {
  return (
    <section aria-labelledby={`${props.id}-heading`}>
      <h2 id={`${props.id}-heading`}>{props.heading}</h2>
      {props.children as never}
    </section>
  );
}

function Sentences(props: { said: readonly Said[]; otherwise: string }) {
  if (props.said.length === 0) return <p class="soft">{props.otherwise}</p>;
  return (
    <ul class="sentences">
      {props.said.map((said) => (
        <li>
          <Sentence said={said} />
        </li>
      ))}
    </ul>
  );
}

function Sentence(props: { said: Said }) {
  return (
    <>
      {props.said.sentence}{' '}
      {props.said.href ? (
        <a href={props.said.href}>
          the pairs<span class="unseen"> behind: {props.said.sentence}</span>
        </a>
      ) : null}
    </>
  );
}

function Rates(props: { view: LensDesignsView }) {
  const { view } = props;
  return (
    <Part heading="Rates" id="rates">
      {view.strips ? <RateStrips picture={view.strips} /> : null}
      <details open={view.strips === null}>
        <summary>All groups as a table</summary>
        <WideTable label="Rates by group">
          <table>
            <thead>
              <tr>
                <th scope="col">Group</th>
                <th scope="col">Ripe pairs</th>
                <th scope="col">Back</th>
                <th scope="col">Rate, 95 %</th>
                <th scope="col">Drawn to the shop</th>
                <th scope="col">Chance worse than the rest</th>
                <th scope="col">By day 30, 60, 90</th>
                <th scope="col">Followed</th>
              </tr>
            </thead>
            <tbody>
              {view.rates.map((line) => (
                <tr>
                  <th scope="row">
                    <a href={line.href}>{line.group}</a>
                    <span class="remark">{line.verdict}</span>
                  </th>
                  <td>{line.ripe}</td>
                  <td>{line.back}</td>
                  <td>
                    {line.rate} <span class="soft one-line">{line.interval}</span>
                  </td>
                  <td>{line.shrunken}</td>
                  <td>{line.chanceWorse}</td>
                  <td>
                    {line.by30}, {line.by60}, {line.by90}
                  </td>
                  <td>{line.followed}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WideTable>
      </details>
      <p class="hint">{view.looks}</p>
    </Part>
  );
}
