import type { Lexicon } from '../lexicon.ts';
import { phrases } from '../phrases.ts';
import { spanishAskingWords, spanishAsks } from './asks.ts';
import { spanishClasses } from './classes.ts';
import { spanishExtent, spanishMaybeStop, spanishWeightyWords } from './extent.ts';
import { spanishBereavement, spanishLabels } from './labels.ts';

export const spanishLexicon: Lexicon = {
  locale: 'es',
  hasSecondReader: false,
  layers: spanishClasses,
  labels: spanishLabels,
  asks: spanishAsks,
  askingWords: spanishAskingWords,
  maybeStop: spanishMaybeStop,
  bereavement: spanishBereavement,
  weightyWords: spanishWeightyWords,
  extent: spanishExtent,
  lightWords: phrases(`
el, la, los, las, un, una, unos, unas, de, del, al, a, en, con, y, o, muy, mas, tan, tanto, mucho, mucha, poco, poquito, un poco, me, se, te, le, les, lo, mi, mis, su, sus, este, esta, estos, estas, ese, esa, esos, esas, que, es, son, esta, estan, estoy, por, favor, pues, ya, todavia, aun, siempre, bien, medio, algo, como, casi, eso, bastante, tambien, solo, nomas, ay, oye, para, yo, tengo, hay
`),
  politeWords: phrases(
    `por, favor, gracias, muchas, hola, buenos, buenas, dias, tardes, noches, ok, si, ya, senor, senora, senorita, y, muy, amable, porfavor, disculpe, perdon, saludos, me, de, los`,
  ),
  denials: phrases(`no, sin, nunca, jamas, ni, ningun, ninguna, nada`),
  denialEnds: phrases(`y, si, cuando, porque, que, hasta`),
  notDenials: phrases(
    `no solo, no se si, no se por que, no puedo, no me deja, no se, no me sirven, no sirven, no aguanto, no me gusta`,
  ),
};
