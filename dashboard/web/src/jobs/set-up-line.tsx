import type { Sensor } from '../../../../shared/protocol/http.ts';
import { words } from '../parts/words.ts';
import { HeatNow } from './heat-line.tsx';

/** What is set up at a sensor, on its card: a missing or stale coupon is told, as advice. */
export function SetUpLine({ sensor: { id, setUp } }: { sensor: Sensor }) {
  if (!setUp) return null;
  return (
    <>
      <a class="said" href={`#/set-up/${setUp.setUp}`}>
        {words.jobs.here(setUp.jobNumber)}: {words.jobs.stages[setUp.stage]}
      </a>
      <HeatNow sensor={id} setUp={setUp.setUp} />
    </>
  );
}
