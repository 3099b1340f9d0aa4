import { computed } from '@preact/signals';
import { circuits, link, ordered, title } from '../live/floor-state.ts';
import { nowMs, standing } from '../live/standing.ts';
import { kept } from '../parts/kept.ts';

export const shows = ['all', 'flagged', 'arc', 'unheard'] as const;

/** Both survive a reload on this device. */
export const show = kept('show', 'all');
export const find = kept('find', '');

const unheard = new Set(['late', 'off', 'lost', 'unknown']);

export const shown = computed(() => {
  const wanted = find.value.trim().toLocaleLowerCase();
  return ordered.value.filter((circuit) => {
    const sensor = circuit.sensor.value;
    const text = `${title(sensor)} ${sensor.name} ${sensor.plate?.plate.name ?? ''}`;
    if (wanted && !text.toLocaleLowerCase().includes(wanted)) return false;
    if (show.value === 'flagged')
      return sensor.flags > 0 || sensor.mismatch?.verdict === 'unsuited';
    if (show.value === 'all') return true;
    const { kind } = standing(sensor, circuit.heardMs, link.value, nowMs.value);
    return show.value === 'arc' ? kind === 'arc' : unheard.has(kind);
  });
});

export const flagsInAll = computed(() =>
  [...circuits.value.values()].reduce((sum, circuit) => sum + circuit.sensor.value.flags, 0),
);
