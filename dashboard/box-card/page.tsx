import { ZonesSvg } from '../pictures/zones/picture.tsx';
import { Paper } from '../pieces/paper.tsx';
import type { BoxCardView } from './view.ts';

/** The card that lies in the parcel: where to look, how to begin, how to stop, whom to ring. */
export function BoxCardPage(props: { view: BoxCardView }) {
  const { view } = props;
  return (
    <Paper
      title={view.title}
      shopName={view.shopName}
      on={view.on}
      invented={view.invented}
      backHref={view.jobHref}
      card
    >
      <div class="box-card" lang={view.lang}>
        {view.multifocal ? (
          <div class="zones-row">
            <ZonesSvg
              far={view.zones.far}
              middle={view.zones.middle}
              near={view.zones.near}
              sides=""
              id="box-zones"
            />
          </div>
        ) : null}
        <p class="hello">{view.hello}</p>
        <p>{view.agrees}</p>
        <p>{view.stop}</p>
        <p class="phone">{view.phone}</p>
        <p class="caution">{view.danger}</p>
      </div>
    </Paper>
  );
}
