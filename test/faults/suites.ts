import { carrierSuite } from './carrier.suite.ts';
import { clockSuite } from './clock.suite.ts';
import { diskFullSuite, embeddedKillsSuite } from './embedded.suite.ts';
import { fuzzSuite } from './fuzz.suite.ts';
import { processesSuite } from './processes.suite.ts';
import type { FaultSuite } from './suite.ts';

/** Every suite that `npm run faults` plays, in this order. */
export const FAULT_SUITES: readonly FaultSuite[] = [
  carrierSuite,
  embeddedKillsSuite,
  diskFullSuite,
  processesSuite,
  clockSuite,
  fuzzSuite,
];
