import { GLOSSARY, type GlossaryWord } from '../glossary.ts';

/** A trade word; its plain sentence shows on focus or under the pointer and is read with it. */
export function Term(props: { word: GlossaryWord; children?: string }) {
  return <Explained words={props.children ?? props.word} means={GLOSSARY[props.word]} />;
}

/** A name that may be a trade word: explained by the sentence given, else by the glossary, else plain. */
export function Named(props: { name: string; means?: string | undefined }) {
  const known = props.name.toLowerCase();
  const means = props.means || (isGlossaryWord(known) ? GLOSSARY[known] : '');
  return means === '' ? <>{props.name}</> : <Explained words={props.name} means={means} />;
}

function Explained(props: { words: string; means: string }) {
  return (
    <button type="button" class="term">
      {props.words}
      <span class="meaning">
        <span class="unseen">: </span>
        {props.means}
      </span>
    </button>
  );
}

const isGlossaryWord = (word: string): word is GlossaryWord => Object.hasOwn(GLOSSARY, word);
