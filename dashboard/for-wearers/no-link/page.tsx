import { WearerSheet } from '../sheet.tsx';
import type { NoLinkView } from './view.ts';

const WORDS = {
  en: {
    ranOut: 'This link has run out',
    ring: 'Ring us, or answer the last message that you had from us.',
    none: 'This link does not work',
    look: 'If it came from your optician, look at the message again, or ring them.',
    tooOften: 'Too many tries. Wait a minute and try again.',
  },
  es: {
    ranOut: 'Este enlace ha caducado',
    ring: 'Llámenos, o responda al último mensaje que recibió de nosotros.',
    none: 'Este enlace no funciona',
    look: 'Si se lo mandó su óptica, mire otra vez el mensaje o llámelos.',
    tooOften: 'Demasiados intentos. Espere un minuto y pruebe otra vez.',
  },
} as const;

/** A link that has run out tells how to reach the shop; one that is none of ours tells nothing of anybody. */
export function NoLinkPage(props: { view: NoLinkView }) {
  const { lang, about, tooOften } = props.view;
  const words = WORDS[lang];
  if (about) {
    return (
      <WearerSheet about={about} title={words.ranOut} page="">
        <p>{words.ring}</p>
      </WearerSheet>
    );
  }
  return (
    <html lang={lang}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="robots" content="noindex" />
        <title>{words.none}</title>
        <link rel="icon" href="data:," />
        <link rel="stylesheet" href="/style.css" />
      </head>
      <body class="for-wearer">
        <main>
          <h1>{words.none}</h1>
          <p>{tooOften ? words.tooOften : words.look}</p>
          <p lang={lang === 'en' ? 'es' : 'en'}>
            {tooOften ? WORDS[lang === 'en' ? 'es' : 'en'].tooOften : WORDS[lang === 'en' ? 'es' : 'en'].look}
          </p>
        </main>
      </body>
    </html>
  );
}
