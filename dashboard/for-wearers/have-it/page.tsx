import type { HaveItView } from './view.ts';

const WORDS = {
  en: {
    ringNow: 'Ring now:',
    invented: 'Invented shop: nothing here is real.',
    came: 'A sign of danger came',
    press: 'I have it',
    means: (person: string) =>
      `${person}: press when you take it on. The others are then not told any more. Ring the wearer at once.`,
    open: 'Open the case with the number to ring',
    bench: 'Open the bench in the shop: the case with the number to ring is at the top.',
  },
  es: {
    ringNow: 'Llame ya:',
    invented: 'Tienda inventada: nada de esto es real.',
    came: 'Llegó una señal de peligro',
    press: 'Lo tengo',
    means: (person: string) =>
      `${person}: pulse cuando se haga cargo. Los demás ya no reciben más avisos. Llame enseguida a la persona.`,
    open: 'Abrir el caso con el número al que llamar',
    bench: 'Abra la mesa en la tienda: el caso con el número está arriba.',
  },
} as const;

/** "I have it", by the link in the alarm. */
export function HaveItPage(props: { view: HaveItView }) {
  const { view } = props;
  const words = WORDS[view.lang];
  const title = `${words.ringNow} ${view.initial}`;
  return (
    <html lang={view.lang}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="robots" content="noindex" />
        <title>{`${title}, ${view.shopName}`}</title>
        <link rel="icon" href="data:," />
        <link rel="stylesheet" href="/style.css" />
      </head>
      <body class="for-wearer">
        <header>
          {view.invented ? <p class="invented-line">{words.invented}</p> : null}
          <p class="shop-name">{view.shopName}</p>
        </header>
        <main>
          <h1>{title}</h1>
          <p>
            {words.came} {view.came}.
          </p>
          {view.over === null ? (
            <form method="post" action={view.base} class="big-answers">
              <p>{words.means(view.person)}</p>
              <button type="submit" name="have" value="it" class="act">
                {words.press}
              </button>
            </form>
          ) : (
            <p class="sign">{view.over}.</p>
          )}
          <p>{view.caseHref ? <a href={view.caseHref}>{words.open}</a> : words.bench}</p>
        </main>
      </body>
    </html>
  );
}
