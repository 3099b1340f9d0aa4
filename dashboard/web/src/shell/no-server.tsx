import { connect } from '../live/feed.ts';
import { words } from '../parts/words.ts';
import { heardSince } from './last-heard.ts';

/** The page was opened without its server: an empty house, and says so. */
export function NoServer() {
  return (
    <main class="narrow no-server">
      <h1 tabIndex={-1}>{words.shell.heading}</h1>
      <p class="sentence">{words.shell.since(heardSince.value)}</p>
      <p>{words.shell.what}</p>
      <button type="button" class="wide main" onClick={connect}>
        {words.shell.tryNow}
      </button>
      <p class="about">{words.shell.help}</p>
    </main>
  );
}
