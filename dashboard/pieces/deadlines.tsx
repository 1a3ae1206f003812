import { Term } from './term.tsx';
import type { Deadline } from './view.ts';

/** Both dates before which something has to happen, the nearer one first, each by its name. */
export function Deadlines(props: { deadlines: readonly Deadline[]; full?: boolean }) {
  const nearestFirst = [...props.deadlines].sort((a, b) => a.daysLeft - b.daysLeft);
  if (nearestFirst.length === 0) return <p class="deadlines none">No deadline is known for this pair.</p>;
  return (
    <ul class="deadlines">
      {nearestFirst.map((deadline) => (
        <li class={deadline.daysLeft < 0 ? 'past' : deadline.daysLeft <= 5 ? 'close' : ''}>
          <span class="days">{daysLeftWords(deadline.daysLeft)}</span>{' '}
          <span class="of">
            {props.full ? <Explained name={deadline.name} /> : deadline.name},{' '}
            <span class="one-line">{deadline.lastDay}</span>
            {deadline.atWorst ? ', at worst' : ''}
          </span>
          {props.full ? <span class="counted">{deadline.counted}</span> : null}
        </li>
      ))}
    </ul>
  );
}

/** The name with its trade word explained, where there is room to. */
function Explained(props: { name: string }) {
  const word = (['remake window', 'our promise'] as const).find((each) => props.name.includes(each));
  if (word === undefined) return <>{props.name}</>;
  const [before, after] = props.name.split(word);
  return (
    <>
      {before}
      <Term word={word} />
      {after}
    </>
  );
}

/** Days left in words: "last day today", "1 day left", "3 days past". */
export function daysLeftWords(daysLeft: number): string {
  if (daysLeft === 0) return 'last day today';
  const days = Math.abs(daysLeft) === 1 ? '1 day' : `${Math.abs(daysLeft)} days`;
  return daysLeft < 0 ? `${days} past` : `${days} left`;
}
