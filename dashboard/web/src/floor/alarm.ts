import { effect } from '@preact/signals';
import { weakArc } from '../live/floor-state.ts';
import { kept } from '../parts/kept.ts';

/** "on" after somebody asked for it with a tap: no page may make noise before. */
export const alarm = kept('alarm', 'off');

let audio: AudioContext | null = null;

/** Two low notes: told apart from a grinder and from a phone. */
function sound(): void {
  audio ??= new AudioContext();
  for (const [after, hertz] of [
    [0, 440],
    [0.22, 330],
  ] as const) {
    const note = audio.createOscillator();
    const loudness = audio.createGain();
    note.frequency.value = hertz;
    loudness.gain.setValueAtTime(0.25, audio.currentTime + after);
    loudness.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + after + 0.2);
    note.connect(loudness).connect(audio.destination);
    note.start(audio.currentTime + after);
    note.stop(audio.currentTime + after + 0.2);
  }
  navigator.vibrate?.([200, 80, 200]);
}

export function toggleAlarm(): void {
  alarm.value = alarm.value === 'on' ? 'off' : 'on';
  if (alarm.value === 'on') sound();
}

/** Sounds for each underpowered arc that ends while the page looks on. */
export function keepAlarm(): void {
  let heard = weakArc.value?.id;
  effect(() => {
    const arc = weakArc.value;
    if (!arc || arc.id === heard) return;
    heard = arc.id;
    if (alarm.value === 'on') sound();
  });
}
