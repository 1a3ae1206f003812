/** Emoji that say something by themselves; all others are passed over. */
export const pictureWords: ReadonlyMap<string, string> = new Map([
  ['👍', 'thumbsup'],
  ['👌', 'thumbsup'],
  ['💯', 'thumbsup'],
  ['👎', 'thumbsdown'],
  ['🛑', 'stop'],
  ['🤢', 'sickface'],
  ['😵', 'dizzyface'],
  ['😍', 'loveface'],
  ['🥰', 'loveface'],
  ['❤', 'loveheart'],
]);
