import { heatFound } from '../../../../shared/protocol/heat-found.ts';
import type { Heat, Sensor } from '../../../../shared/protocol/http.ts';
import { circuits } from '../live/floor-state.ts';
import { figure } from '../parts/format.ts';
import { words } from '../parts/words.ts';

/** How hot, in watts, and what the passed coupon's band makes of it; by word and by mark. */
export function HeatLine({ heat, more = '' }: { heat: Heat; more?: string }) {
  return (
    <span class={`heat ${heat.word ?? ''}`}>
      {words.jobs.took(figure(heat.watts, 0))}
      {heat.word && `, ${words.jobs.heat[heat.word]}`}
      {more && `, ${more}`}
    </span>
  );
}

interface HeatNowProps {
  sensor: string;
  setUp: number;
}

/** Of the arc that burns at a set-up, as soon as the rule can tell; else of its last one. */
export function HeatNow({ sensor, setUp }: HeatNowProps) {
  const here = circuits.value.get(sensor)?.sensor.value;
  if (here?.setUp?.setUp !== setUp || here.setUp.stage !== 'vehicle') return null;
  const heat = heatOf(here);
  return (
    <p class="heat-now">
      {/* What is not known yet keeps its line: nothing jumps when an arc strikes. */}
      {here.openArc ? words.jobs.arcOn : words.jobs.arcLast} {heat ? <HeatLine heat={heat} /> : '–'}
    </p>
  );
}

function heatOf({ openArc, lastArc, setUp }: Sensor): Heat | null {
  if (openArc) return openArc.arc && heatFound(openArc.arc.findings);
  const own = lastArc?.weld?.setUp === setUp?.setUp && lastArc?.weld?.on === 'vehicle';
  return own && lastArc?.heat?.word ? lastArc.heat : null;
}
