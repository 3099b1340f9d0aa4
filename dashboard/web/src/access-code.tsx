import { useState } from 'preact/hooks';
import { connect } from './live/feed.ts';
import { link } from './live/floor-state.ts';
import { showCode } from './parts/api.ts';
import { words } from './parts/words.ts';

/** First visit from another device: the code that stands where Stiffline was started. */
export function AccessCode() {
  const [code, setCode] = useState('');
  const [fault, setFault] = useState('');
  const enter = async (event: Event) => {
    event.preventDefault();
    try {
      await showCode(code);
      link.value = 'connecting';
      connect();
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <main class="narrow">
      <h1 tabIndex={-1}>{words.access.heading}</h1>
      <p>{words.access.what}</p>
      <form onSubmit={enter}>
        <label class="field code">
          {words.access.code}
          <input
            inputMode="numeric"
            autoComplete="one-time-code"
            placeholder="0000-0000"
            maxLength={12}
            value={code}
            onInput={(event) => setCode(event.currentTarget.value)}
          />
        </label>
        <p class="fault" role="alert">
          {fault}
        </p>
        <button type="submit" class="wide main">
          {words.access.enter}
        </button>
      </form>
    </main>
  );
}
