import { WearerSheet } from '../sheet.tsx';
import { COMMON } from '../words.ts';
import type { StopView } from './view.ts';

const WORDS = {
  en: {
    ask: 'One tap and no more of these messages come. Your glasses and your rights stay as they are.',
    text: 'No more texts',
    email: 'No more emails',
    all: 'No more of either',
    done: 'Done. No more messages come. You may still ring us at any time.',
  },
  es: {
    ask: 'Con un toque ya no llegan más de estos mensajes. Sus lentes y sus derechos quedan igual.',
    text: 'No más mensajes de texto',
    email: 'No más correos',
    all: 'Ninguno de los dos',
    done: 'Listo. Ya no llegan más mensajes. Puede llamarnos cuando quiera.',
  },
} as const;

/** The plain stop page: works at once, asks nothing. */
export function StopPage(props: { view: StopView }) {
  const { about, channels, done } = props.view;
  const words = WORDS[about.lang];
  return (
    <WearerSheet about={about} title={COMMON[about.lang].stop} page="">
      {done || channels.length === 0 ? (
        <p>{words.done}</p>
      ) : (
        <>
          <p>{words.ask}</p>
          <form method="post" action={about.base} class="big-answers">
            <input type="hidden" name="lang" value={about.lang} />
            {channels.map((channel) => (
              <button type="submit" name="stop" value={channel}>
                {words[channel]}
              </button>
            ))}
            {channels.length > 1 ? (
              <button type="submit" name="stop" value="all">
                {words.all}
              </button>
            ) : null}
          </form>
        </>
      )}
    </WearerSheet>
  );
}
