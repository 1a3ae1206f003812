import { readFileSync } from 'node:fs';
import { bad, type Checked, good } from '../problems.ts';

const SHORTEST = 12;

/** The passphrase of a backup: from the file that is named, else from the settings. */
export function passphraseOf(args: readonly string[], fromSettings: string | undefined): Checked<string> {
  const at = args.indexOf('--passphrase-file');
  if (at < 0) {
    return fromSettings === undefined
      ? trouble('There is no passphrase.', 'Set AFTERFIT_BACKUP_PASSPHRASE, or name a --passphrase-file.')
      : good(fromSettings);
  }
  const file = args[at + 1] ?? '';
  let passphrase: string;
  try {
    passphrase = readFileSync(file, 'utf8').trim();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? 'error';
    return trouble(`The passphrase file “${file}” could not be read (${code}).`, 'Check its name.');
  }
  return passphrase.length < SHORTEST
    ? trouble(
        'The passphrase is too short.',
        `Take at least ${SHORTEST} letters: four or five words are good.`,
      )
    : good(passphrase);
}

/** The file that a command is about: the first word that is no flag and no flag's value. */
export const fileOf = (args: readonly string[]): string | undefined =>
  args.find((arg, index) => !arg.startsWith('--') && args[index - 1] !== '--passphrase-file');

const trouble = (what: string, mend: string): Checked<never> =>
  bad({ code: 'passphrase', what, where: 'passphrase', mend });
