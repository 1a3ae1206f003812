import { carrierSuite } from './carrier.suite.ts';
import type { FaultSuite } from './suite.ts';

/** Every suite that `npm run faults` plays, in this order. */
export const FAULT_SUITES: readonly FaultSuite[] = [carrierSuite];
