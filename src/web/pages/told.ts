import type { Told } from '../../store/alarms.ts';
import type { Shop } from '../../store/shops.ts';
import { shortTime } from '../format.ts';

/** Who was told of a danger sign, and when: "Ana Brook was told at 10:38 and 10:43, Tom Reyes was told at 10:48". */
export function toldWords(told: readonly Told[], shop: Shop, now: Date): string {
  if (told.length === 0) return 'NOBODY was told: nobody on call can be reached from here';
  const time = (at: Date) => shortTime(at, now, shop.time_zone).replace(/^today /, '');
  const rounds = roundsOf(told);
  const people = [...new Set(rounds.map((round) => round.name))];
  const said = people.map((name) => {
    const own = rounds.filter((round) => round.name === name);
    const reached = own.filter((round) => round.how === 'told');
    const times = (which: typeof own) =>
      which.length > MOST_TIMES
        ? `${which.length} times, last ${time(which.at(-1)!.at)}`
        : which.map((round) => time(round.at)).join(' and ');
    if (reached.length > 0) return `${name} was told ${times(reached).replace(/^(?=\d\d:)/, 'at ')}`;
    const last = own.at(-1)!;
    return last.how === 'going' ? `${name} is being told` : `${name} could NOT be told (${time(last.at)})`;
  });
  return said.join(', ');
}

const MOST_TIMES = 3;

type Round = { name: string; at: Date; how: 'told' | 'going' | 'not told' };

/** The text and the email of one round count as one: whoever got either was told. */
function roundsOf(told: readonly Told[]): Round[] {
  const rounds = new Map<string, Round>();
  for (const call of told) {
    const key = `${call.round} ${call.at.getTime()} ${call.person_name}`;
    const how = call.state === 'accepted' ? 'told' : call.state === 'planned' ? 'going' : 'not told';
    const before = rounds.get(key);
    if (before === undefined || how === 'told' || (how === 'going' && before.how !== 'told')) {
      rounds.set(key, { name: call.person_name, at: call.at, how });
    }
  }
  return [...rounds.values()];
}
