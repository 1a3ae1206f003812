import { startStandIn } from '../channels/standIn.ts';
import { ACCOUNT, TOKEN } from './carrierSdk.ts';

/** The carrier's stand-in in a process of its own, so that it does not take the time of who is measured. */
const standIn = await startStandIn({ accountSid: ACCOUNT, authToken: TOKEN, nowMs: Date.now });
process.send?.({ origin: standIn.origin });
process.once('disconnect', () => process.exit());
