import { GLOSSARY, type GlossaryWord } from '../glossary.ts';

/** A trade word; its plain sentence shows on focus or under the pointer and is read with it. */
export function Term(props: { word: GlossaryWord; children?: string }) {
  return (
    <button type="button" class="term">
      {props.children ?? props.word}
      <span class="meaning">
        <span class="unseen">: </span>
        {GLOSSARY[props.word]}
      </span>
    </button>
  );
}
