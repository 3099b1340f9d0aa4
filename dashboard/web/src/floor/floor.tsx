import { link, ordered } from '../live/floor-state.ts';
import { words } from '../parts/words.ts';
import { CircuitCard } from './circuit-card.tsx';
import { find, flagsInAll, show, shown, shows } from './filters.ts';
import { FlagMark } from './flag-mark.tsx';
import { SoundButton } from './sound-button.tsx';

/** Every circuit now. */
export function Floor() {
  const cards = shown.value;
  return (
    <main>
      <h1 class="quiet-heading" tabIndex={-1}>
        {words.floor.heading}
      </h1>
      <FlagLine />
      {ordered.value.length > 0 && <Filters />}
      {ordered.value.length === 0 && (
        <p class="empty">
          {link.value === 'connecting' ? words.floor.looking : words.floor.noSensor}
        </p>
      )}
      {ordered.value.length > 0 && cards.length === 0 && (
        <p class="empty">
          {words.floor.noneIsLikeThat(ordered.value.length)}{' '}
          <button type="button" class="plain" onClick={clear}>
            {words.floor.showAll}
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
      <span>{words.floor.flagged(flags)}</span>
    </a>
  );
}

function Filters() {
  return (
    <form class="tools" onSubmit={(event) => event.preventDefault()}>
      <fieldset class="choices">
        <legend class="unseen">{words.floor.which}</legend>
        {shows.map((key) => (
          <label key={key}>
            <input
              type="radio"
              name="show"
              value={key}
              checked={show.value === key}
              onChange={() => {
                show.value = key;
              }}
            />
            <span>{words.floor.shows[key]}</span>
          </label>
        ))}
      </fieldset>
      <input
        class="find"
        type="search"
        aria-label={words.floor.find}
        placeholder={words.floor.find}
        value={find.value}
        onInput={(event) => {
          find.value = event.currentTarget.value;
        }}
      />
      <SoundButton />
    </form>
  );
}
