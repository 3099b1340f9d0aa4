import { useEffect } from 'preact/hooks';
import { words } from '../parts/words.ts';

interface KeypadProps {
  label: string;
  digits: string;
  busy: boolean;
  /** Told by the digits before: keys may come faster than the pad is drawn anew. */
  onDigits(change: (digits: string) => string): void;
  onEnter(): void;
}

const least = 4;
const most = 8;
const rows = ['123', '456', '789'];

/** Ten large keys for a PIN, for gloves; a real keyboard does it too. */
export function Keypad({ label, digits, busy, onDigits, onEnter }: KeypadProps) {
  const says = words.people.signIn;
  const add = (digit: string) => onDigits((now) => (now + digit).slice(0, most));
  const takeBack = () => onDigits((now) => now.slice(0, -1));
  const enough = digits.length >= least && !busy;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (/^\d$/.test(event.key)) add(event.key);
      else if (event.key === 'Backspace') takeBack();
      // On a key of the pad, Enter presses that key.
      else if (event.key === 'Enter' && event.target instanceof HTMLButtonElement) return;
      else if (event.key === 'Enter' && enough) onEnter();
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  });
  return (
    <fieldset class="keypad">
      <legend>{label}</legend>
      <p class="typed" aria-hidden="true">
        {'●'.repeat(digits.length).padEnd(least, '○')}
      </p>
      <p class="unseen" role="status">
        {says.digits(digits.length)}
      </p>
      {rows.flatMap((row) =>
        [...row].map((digit) => (
          <button key={digit} type="button" onClick={() => add(digit)}>
            {digit}
          </button>
        )),
      )}
      <button type="button" class="small" aria-label={says.takeBackLong} onClick={takeBack}>
        {says.takeBack}
      </button>
      <button type="button" onClick={() => add('0')}>
        0
      </button>
      <button type="button" class="small main" disabled={!enough} onClick={onEnter}>
        {says.enter}
      </button>
    </fieldset>
  );
}
