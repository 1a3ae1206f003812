import type { Channel } from './channel.ts';

/** Takes everything and keeps only the ids, so that a measurement times the dispatch and not a carrier. */
export function nullCarrier(kind: 'text' | 'email'): Channel & { readonly taken: ReadonlySet<string> } {
  const taken = new Set<string>();
  return {
    name: `null ${kind}`,
    kind,
    taken,
    async send(message) {
      taken.add(message.attemptId);
      return { state: 'accepted', farId: `null-${message.attemptId}` };
    },
    async find(attemptId) {
      return taken.has(attemptId) ? 'accepted' : 'not there';
    },
  };
}
