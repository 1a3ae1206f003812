import type { SentPicture } from './view.ts';

/** Pictures that came with a message, small, each opening large; and what is to be said of those that are not there. */
export function SentPictures(props: { pictures: readonly SentPicture[] }) {
  if (props.pictures.length === 0) return null;
  return (
    <ul class="sent-pictures" aria-label="Pictures that came with it">
      {props.pictures.map((picture) => (
        <li>
          {picture.href === null ? (
            <span class="soft">{picture.words}</span>
          ) : (
            <a href={picture.href}>
              <img src={picture.href} alt={picture.words} loading="lazy" width="144" />
            </a>
          )}
        </li>
      ))}
    </ul>
  );
}
