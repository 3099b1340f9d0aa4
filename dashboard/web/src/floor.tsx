import { CircuitCard } from './circuit-card.tsx';
import { link, ordered } from './floor-state.ts';

/** Every circuit now. */
export function Floor() {
  const circuits = ordered.value;
  return (
    <main>
      <h1 class="quiet-heading">The floor</h1>
      {circuits.length === 0 && (
        <p class="empty">
          {link.value === 'connecting' ? 'Looking for the server …' : 'No sensor has spoken yet.'}
        </p>
      )}
      <div class="cards">
        {circuits.map((circuit) => (
          <CircuitCard key={circuit.sensor.value.id} circuit={circuit} />
        ))}
      </div>
    </main>
  );
}
