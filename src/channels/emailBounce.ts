export type BouncedRecipient = {
  readonly address: string;
  readonly action: string;
  readonly status: string;
  readonly diagnostic: string | null;
  /** The address itself is wrong: it is marked and not used again. */
  readonly addressBad: boolean;
  /** The address is right; a later message may pass. */
  readonly tryAgainLater: boolean;
  /** Refused for a reason that lies with us or with policy: staff are told. */
  readonly tellStaff: boolean;
};

/**
 * Reads the machine part of a bounce, recipient by recipient. Only the action `failed` is a bounce; `delayed` means that the
 * other side is still trying. Class 4: later. 5.1.x: the address is bad, but for 5.1.7 and 5.1.8, which speak of the sender.
 * x.2.2 is a full mailbox: later. 5.7.x is policy: ours to mend. 5.0.0 says nothing more and is taken for a bad address,
 * since full and policy would say so. Sources: RFC 3464 section 2.3, RFC 3463 sections 2 and 3, IANA registry of enhanced
 * status codes; what to do: common practice.
 */
export function readDeliveryStatus(text: string): readonly BouncedRecipient[] {
  const blocks = text
    .replace(/\r\n?/g, '\n')
    .replace(/\n[ \t]+/g, ' ')
    .split(/\n\s*\n/);
  return blocks.flatMap((block) => {
    const field = (name: string) => new RegExp(`^${name}:[ \\t]*(.*)$`, 'im').exec(block)?.[1]?.trim();
    const recipient = field('Final-Recipient') ?? field('Original-Recipient');
    const action = field('Action')
      ?.replace(/\(.*?\)/g, '')
      .trim()
      .toLowerCase();
    if (recipient === undefined || action === undefined) return [];
    const status = /\d\.\d{1,3}\.\d{1,3}/.exec(field('Status') ?? '')?.[0] ?? '';
    return [
      {
        address: bareAddress(recipient),
        action,
        status,
        diagnostic: field('Diagnostic-Code')?.replace(/^[^;]*;\s*/, '') ?? null,
        ...judge(action, status),
      },
    ];
  });
}

function judge(action: string, status: string) {
  const fate = { addressBad: false, tryAgainLater: false, tellStaff: false };
  if (action !== 'failed') return fate;
  const [kind, subject, detail] = status.split('.').map(Number);
  if (kind === 4) return { ...fate, tryAgainLater: true };
  if (subject === 2 && detail === 2) return { ...fate, tryAgainLater: true };
  if (subject === 1 && detail !== 7 && detail !== 8) return { ...fate, addressBad: true };
  if (subject === 0 || status === '') return { ...fate, addressBad: true };
  // 5.2.1: the mailbox is shut and takes nothing.
  if (subject === 2 && detail === 1) return { ...fate, addressBad: true };
  return { ...fate, tellStaff: true };
}

/** `rfc822; <sam@example.com>` without its type and brackets; the domain in lower case. */
function bareAddress(field: string): string {
  const address = field
    .replace(/^[^;]*;/, '')
    .replace(/\(.*?\)/g, '')
    .trim()
    .replace(/^<|>$/g, '');
  const at = address.lastIndexOf('@');
  return address.slice(0, at + 1) + address.slice(at + 1).toLowerCase();
}
