import { computed, effect, signal } from '@preact/signals';
import { weakWelds } from '../live/floor-state.ts';
import { kept } from '../parts/kept.ts';

/** "on" after somebody asked for it with a tap: no page may make noise before. */
const alarm = kept('alarm', 'off');
/** A browser lets a page sound only once it was touched: not after a reload, nor after a call. */
const silenced = signal(true);
/** How the alarm stands; `waits`: it was asked for, and the browser holds it back. */
export const sounding = computed(() => {
  if (alarm.value !== 'on') return 'off';
  return silenced.value ? 'waits' : 'on';
});

/** Sensors at both ends of a cord tell of the same weld within this. */
const oneWeldMs = 2_000;

let audio: AudioContext | null = null;

function open(): AudioContext {
  if (audio) return audio;
  const opened = new AudioContext();
  const look = () => {
    silenced.value = opened.state !== 'running';
  };
  opened.onstatechange = look;
  look();
  audio = opened;
  return opened;
}

/** Two low notes: told apart from a grinder and from a phone. */
function sound(): void {
  navigator.vibrate?.([200, 80, 200]);
  const on = open();
  // What is held back now would be heard at the next touch, when it is no news any more.
  if (on.state !== 'running') return;
  for (const [after, hertz] of [
    [0, 440],
    [0.22, 330],
  ] as const) {
    const note = on.createOscillator();
    const loudness = on.createGain();
    note.frequency.value = hertz;
    loudness.gain.setValueAtTime(0.25, on.currentTime + after);
    loudness.gain.exponentialRampToValueAtTime(0.001, on.currentTime + after + 0.2);
    note.connect(loudness).connect(on.destination);
    note.start(on.currentTime + after);
    note.stop(on.currentTime + after + 0.2);
  }
}

/** On, with the notes for a sample, or off; one that waits is let sound. */
export function toggleAlarm(): void {
  alarm.value = sounding.value === 'on' ? 'off' : 'on';
  if (alarm.value === 'on') void open().resume().then(sound);
}

/** Sounds at the first word of each underpowered weld while the page looks on. */
export function keepAlarm(): void {
  const wake = () => {
    if (alarm.value === 'on') void open().resume();
  };
  wake();
  // A finger counts as a touch when it is lifted.
  addEventListener('pointerup', wake);
  addEventListener('keydown', wake);
  let heard = weakWelds.value;
  let soundedMs = Number.NEGATIVE_INFINITY;
  effect(() => {
    const told = weakWelds.value;
    if (told === heard) return;
    heard = told;
    if (alarm.peek() !== 'on' || performance.now() - soundedMs < oneWeldMs) return;
    soundedMs = performance.now();
    sound();
  });
}
