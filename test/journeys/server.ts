import type { TestProject } from 'vitest/node';
import { startAfterfit } from '../setup/process.ts';
import { browserMissing } from './browser.ts';

declare module 'vitest' {
  interface ProvidedContext {
    address: string;
  }
}

/** One invented shop for all journeys: each goes with wearers of its own. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  if (browserMissing()) {
    project.provide('address', '');
    return async () => {};
  }
  // A shop that is open already may be walked through again while a journey is written.
  if (process.env.JOURNEYS_AT) {
    project.provide('address', process.env.JOURNEYS_AT);
    return async () => {};
  }
  const server = await startAfterfit(['--invented']);
  project.provide('address', server.address);
  return () => server.stop();
}
