import { PostForm } from './form.tsx';
import type { ActOffer } from './view.ts';

/** An act as one button: posted at once, or a link where the case has to be looked at first. */
export function ActButton(props: {
  offer: ActOffer;
  caseId: string;
  seenVersion: number;
  csrf: string;
  about: string;
}) {
  const spoken = <span class="unseen">: {props.about}</span>;
  if (props.offer.opensAt !== null) {
    return (
      <a class="button act" href={props.offer.opensAt}>
        {props.offer.words}
        {spoken}
      </a>
    );
  }
  return (
    <PostForm action={`/cases/${props.caseId}/act`} csrf={props.csrf} class="one-button">
      <input type="hidden" name="act" value={props.offer.act} />
      <input type="hidden" name="way" value={props.offer.way} />
      <input type="hidden" name="seen_version" value={String(props.seenVersion)} />
      <button type="submit" class="act">
        {props.offer.words}
        {spoken}
      </button>
    </PostForm>
  );
}
