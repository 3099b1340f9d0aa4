import { type Circuit, ordered } from '../live/floor-state.ts';
import { placeOf } from '../parts/place-of.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { CardLadder, Figure, fullTitle, Lamp, useStanding, verdictNow } from './circuit-card.tsx';
import { FlagMark } from './flag-mark.tsx';
import { SoundWaits } from './sound-button.tsx';

/** The floor for a screen on the wall: read across a bay, touched by nobody. */
export function Wall() {
  const circuits = ordered.value;
  return (
    <main class="wall">
      <h1 class="unseen" tabIndex={-1}>
        {words.floor.headingLarge}
      </h1>
      <SoundWaits />
      <div class="places">
        {circuits.map((circuit) => (
          <WallPlace key={circuit.sensor.value.id} circuit={circuit} />
        ))}
      </div>
    </main>
  );
}

function WallPlace({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const stands = useStanding(circuit);
  const verdict = verdictNow(circuit);
  return (
    <section class={`place ${stands.kind}`} aria-label={fullTitle(sensor)}>
      <h2>{fullTitle(sensor)}</h2>
      <CardLadder circuit={circuit} />
      <div class="now">
        <Figure circuit={circuit} unit="V" />
        <Figure circuit={circuit} unit="A" />
      </div>
      <p class="word">
        {verdict && (
          <>
            <VerdictMark verdict={verdict} size={40} />
            <strong class={verdict}>{verdictWord(verdict, placeOf(sensor))}</strong>
          </>
        )}
      </p>
      <p class="state">
        <Lamp kind={stands.kind} /> {stands.words}
        {sensor.flags > 0 && (
          <span class="flags">
            <FlagMark /> {sensor.flags}
            <span class="unseen"> {words.floor.notAcknowledgedRest}</span>
          </span>
        )}
      </p>
    </section>
  );
}
