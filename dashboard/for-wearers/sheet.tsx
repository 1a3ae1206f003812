import type { Child } from 'hono/jsx';
import type { ForWearer } from './view.ts';
import { COMMON } from './words.ts';

/** Words in which a telephone number can be tapped: whoever needs it has the telephone in their hand. */
export function Ringable(props: { words: string }) {
  const pieces = props.words.split(/(\+?\d[\d ().-]*\d)/);
  return (
    <>
      {pieces.map((piece, at) =>
        at % 2 === 1 ? <a href={`tel:${piece.replace(/[^+\d]/g, '')}`}>{piece}</a> : piece,
      )}
    </>
  );
}

/** What stands around each of the wearer's pages: the shop, its number, the signs that cannot wait, the other pages. */
export function WearerSheet(props: { about: ForWearer; title: string; page: string; children?: Child }) {
  const { about, page } = props;
  const words = COMMON[about.lang];
  const others = about.pages.filter((one) => `/${one}` !== page);
  return (
    <html lang={about.lang}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="robots" content="noindex" />
        <meta name="referrer" content="no-referrer" />
        <title>{`${props.title}, ${about.shopName}`}</title>
        <link rel="icon" href="data:," />
        <link rel="stylesheet" href="/style.css" />
      </head>
      <body class="for-wearer">
        <header>
          {about.invented ? <p class="invented-line">{words.invented}</p> : null}
          <p class="shop-name">{about.shopName}</p>
          <p>
            <a
              href={`${about.base}${page}?lang=${about.lang === 'en' ? 'es' : 'en'}`}
              lang={about.lang === 'en' ? 'es' : 'en'}
            >
              {words.other}
            </a>
          </p>
        </header>
        <main>
          <h1>{props.title}</h1>
          {props.children}
        </main>
        <footer>
          {about.phone === '' ? null : (
            <p class="ring">
              <a class="button" href={`tel:${about.phone.replace(/[^+\d]/g, '')}`}>
                {words.ring} {about.phone}
              </a>
            </p>
          )}
          <div class="caution">
            <p>{words.danger}</p>
            {about.localNumbers.length > 0 ? (
              <ul>
                {about.localNumbers.map((line) => (
                  <li>
                    <Ringable words={line} />
                  </li>
                ))}
              </ul>
            ) : null}
          </div>
          {others.length > 0 ? (
            <ul class="other-pages">
              {others.map((one) => (
                <li>
                  <a href={`${about.base}/${one}?lang=${about.lang}`}>{words[one]}</a>
                </li>
              ))}
            </ul>
          ) : null}
        </footer>
      </body>
    </html>
  );
}
