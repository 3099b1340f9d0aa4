import { words } from '../parts/words.ts';
import { sounding, toggleAlarm } from './alarm.ts';

/** Turns the alarm on and off, and says when the browser holds it back. */
export function SoundButton() {
  const stands = sounding.value;
  return (
    <button type="button" aria-pressed={stands !== 'off'} onClick={toggleAlarm}>
      {words.floor.sound[stands]}
    </button>
  );
}

/** For a screen with no room for the button while all is well. */
export function SoundWaits() {
  if (sounding.value !== 'waits') return null;
  return (
    <p class="sound-waits">
      <SoundButton />
    </p>
  );
}
