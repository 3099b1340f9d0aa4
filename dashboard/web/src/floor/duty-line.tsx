import type { Plate } from '../../../../shared/protocol/plate.ts';
import { figure } from '../parts/format.ts';
import { words } from '../parts/words.ts';

/**
 * Arc-on share of the last ten minutes on a line, with a tick where the plate's duty ends. Which
 * output the welder has set is not known here, so the plate's hottest rating is shown.
 */
export function DutyLine({ duty, plate }: { duty: number | null; plate: Plate | null }) {
  const rating = plate?.ratings?.reduce((most, each) => (each.I2 > most.I2 ? each : most));
  const over = duty !== null && rating !== undefined && duty > rating.X;
  const percent = (part: number) => `${figure(100 * part, 0)} %`;
  return (
    <div class="duty">
      <p>
        <span class="plate">{plate?.name ?? words.floor.noMachine}</span>
        <span class={over ? 'over' : ''}>
          {words.floor.arcOn(duty === null ? '–' : percent(duty))}
          {rating && ` · ${words.floor.plateDuty(percent(rating.X), `${figure(rating.I2, 0)} A`)}`}
          {over && `: ${words.floor.overDuty}`}
        </span>
      </p>
      <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
        <rect class="track" width="100" height="6" />
        <rect class={over ? 'part over' : 'part'} width={100 * (duty ?? 0)} height="6" />
        {rating && <rect class="tick" x={100 * rating.X - 0.5} width="1" height="6" />}
      </svg>
    </div>
  );
}
