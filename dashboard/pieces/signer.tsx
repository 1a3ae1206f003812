export type Signers = readonly { readonly personId: string; readonly words: string }[];

/** Whether the person at the screen is one of those who may sign. */
export const maySign = (signers: Signers, me: string | undefined): boolean =>
  signers.some((signer) => signer.personId === me);

/** Who signs: the person at the screen, with their licence; or why they cannot, and who can. */
export function Signer(props: { signers: Signers; me: string | undefined; label?: string }) {
  const mine = props.signers.find((signer) => signer.personId === props.me);
  if (mine)
    return (
      <p class="signer">
        {props.label ?? 'Signed by'} <b>{mine.words}</b>
      </p>
    );
  return props.signers.length === 0 ? (
    <p class="caution">
      Nobody here is marked as licensed, so nobody can sign it. <a href="/people">People</a>
    </p>
  ) : (
    <p class="caution">
      You are not marked as licensed: it waits to be signed by{' '}
      {props.signers.map((signer) => signer.words).join(' or ')}.
    </p>
  );
}
