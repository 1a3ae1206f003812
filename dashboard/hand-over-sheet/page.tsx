import { Blank, Box, Paper } from '../pieces/paper.tsx';
import { WideTable } from '../pieces/table.tsx';
import type { HandOverSheetView } from './view.ts';

/** What to look at, show and ask when a pair is handed over, with room to write. */
export function HandOverSheetPage(props: { view: HandOverSheetView }) {
  const { view } = props;
  return (
    <Paper
      title={`Hand-over: ${view.wearer}, job ${view.jobNumber}`}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref={view.jobHref}
    >
      <p>{view.pair}</p>
      <h2>On the face</h2>
      <WideTable label="Measures">
        <table class="by-hand">
          <thead>
            <tr>
              <th scope="col">Look at</th>
              <th scope="col">Ordered R</th>
              <th scope="col">Ordered L</th>
              <th scope="col">Found R</th>
              <th scope="col">Found L</th>
            </tr>
          </thead>
          <tbody>
            {view.measures.map((measure) => (
              <tr>
                <th scope="row">{measure.name}</th>
                <td>{measure.right}</td>
                <td>{measure.left}</td>
                <td></td>
                <td></td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <ul class="boxes">
        <Box words="level on the brows" />
        <Box words="slip test: head down, shaken; it holds" />
        <Box words="temples and pads press nowhere" />
      </ul>
      {view.expect.length > 0 ? (
        <>
          <h2>Expect with this job</h2>
          <ul class="plain-list">
            {view.expect.map((line) => (
              <li>{line}</li>
            ))}
          </ul>
        </>
      ) : null}
      <h2>Shown and told</h2>
      <ul class="boxes">
        {view.teach.map((line) => (
          <Box words={line} />
        ))}
      </ul>
      {view.cautions.map((caution) => (
        <p class="caution">{caution}</p>
      ))}
      <h2>Asked in these words</h2>
      <blockquote>{view.consentWords}</blockquote>
      <ul class="boxes in-line">
        <Box words="texts yes" />
        <Box words="texts no" />
        <Box words="email yes" />
        <Box words="email no" />
      </ul>
      <div class="blanks">
        <Blank label="Asked by" />
        <Blank label="Handed over on" />
        <Blank label="Remarks" wide />
      </div>
    </Paper>
  );
}
