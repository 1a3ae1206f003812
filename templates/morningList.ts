/** What a person of the shop is told in the morning: initials and job numbers, never a wearer's name or words. */
export type MorningList = {
  readonly shopName: string;
  readonly firstName: string;
  /** "Mon 2 Mar". */
  readonly day: string;
  readonly danger: number;
  readonly toRing: readonly MorningLine[];
  readonly endsSoon: readonly MorningLine[];
  /** Cases that wait for a person, and how many of them this person holds. */
  readonly cases: number;
  readonly heldByYou: number;
  readonly tray: number;
  readonly claims: number;
};
export type MorningLine = { readonly initial: string; readonly job: string; readonly what: string };

/** Longer lists are read on the page. */
const LINES = 12;

/** The mail, or undefined where there is nothing to do: nobody is mailed an empty list. */
export function morningMail(list: MorningList): { subject: string; text: string } | undefined {
  const counts = [
    list.danger > 0 ? `${list.danger} in danger` : '',
    list.toRing.length > 0 ? `${list.toRing.length} to ring` : '',
    list.endsSoon.length > 0 ? `${list.endsSoon.length} ending soon` : '',
    list.cases > 0 ? counted(list.cases, 'case', 'cases') : '',
    list.tray > 0 ? `${list.tray} in the tray` : '',
    list.claims > 0 ? counted(list.claims, 'claim on a lab', 'claims on labs') : '',
  ].filter((part) => part !== '');
  if (counts.length === 0) return undefined;
  const blocks = [
    `Good morning ${list.firstName}. ${list.day}: ${counts.join(', ')}.`,
    list.danger > 0
      ? `${list.danger === 1 ? 'One wearer' : `${list.danger} wearers`} may be in danger: open the bench first.`
      : '',
    section('To ring', list.toRing),
    section('Ends within three days', list.endsSoon),
    list.heldByYou > 0 ? `You hold ${counted(list.heldByYou, 'case', 'cases')}.` : '',
    'Names and words stand on the shop’s own pages only.',
  ].filter((block) => block !== '');
  return { subject: `${list.shopName}, ${list.day}: ${counts.join(', ')}`, text: `${blocks.join('\n\n')}\n` };
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

function section(heading: string, lines: readonly MorningLine[]): string {
  if (lines.length === 0) return '';
  const shown = lines
    .slice(0, LINES)
    .map(({ initial, job, what }) => `- ${initial}., ${job === '' ? 'no job' : `job ${job}`}: ${what}`);
  const more = lines.length > LINES ? [`- and ${lines.length - LINES} more`] : [];
  return [`${heading}:`, ...shown, ...more].join('\n');
}
