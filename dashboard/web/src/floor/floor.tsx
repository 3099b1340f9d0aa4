import { link, ordered } from '../live/floor-state.ts';
import { alarm, toggleAlarm } from './alarm.ts';
import { CircuitCard } from './circuit-card.tsx';
import { find, flagsInAll, type Show, show, shown, shows } from './filters.ts';
import { FlagMark } from './flag-mark.tsx';

/** Every circuit now. */
export function Floor() {
  const cards = shown.value;
  return (
    <main>
      <h1 class="quiet-heading" tabIndex={-1}>
        The floor
      </h1>
      <FlagLine />
      {ordered.value.length > 0 && <Filters />}
      {ordered.value.length === 0 && (
        <p class="empty">
          {link.value === 'connecting' ? 'Looking for the server …' : 'No sensor has spoken yet.'}
        </p>
      )}
      {ordered.value.length > 0 && cards.length === 0 && (
        <p class="empty">
          None of {ordered.value.length} is like that now.{' '}
          <button type="button" class="plain" onClick={clear}>
            Show all
          </button>
        </p>
      )}
      <div class="cards">
        {cards.map((circuit) => (
          <CircuitCard key={circuit.sensor.value.id} circuit={circuit} />
        ))}
      </div>
    </main>
  );
}

function clear(): void {
  show.value = 'all';
  find.value = '';
}

function FlagLine() {
  const flags = flagsInAll.value;
  if (flags === 0) return null;
  return (
    <a class="flag-line" href="#/flags">
      <FlagMark />
      <span>
        {flags} underpowered {flags === 1 ? 'arc' : 'arcs'} that nobody has acknowledged
      </span>
    </a>
  );
}

function Filters() {
  return (
    <form class="tools" onSubmit={(event) => event.preventDefault()}>
      <fieldset class="choices">
        <legend class="unseen">Which circuits</legend>
        {Object.entries(shows).map(([key, words]) => (
          <label key={key}>
            <input
              type="radio"
              name="show"
              value={key}
              checked={show.value === key}
              onChange={() => {
                show.value = key as Show;
              }}
            />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
      <input
        class="find"
        type="search"
        aria-label="Find a circuit or machine"
        placeholder="Find a circuit or machine"
        value={find.value}
        onInput={(event) => {
          find.value = event.currentTarget.value;
        }}
      />
      <button type="button" aria-pressed={alarm.value === 'on'} onClick={toggleAlarm}>
        Sound {alarm.value}
      </button>
    </form>
  );
}
