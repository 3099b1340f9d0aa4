import { useState } from 'preact/hooks';
import type { Sensor } from '../../../../shared/protocol/http.ts';
import { saveOfCircuit } from '../parts/api.ts';
import { words } from '../parts/words.ts';

/**
 * Where a sensor sits that does not say so itself. Asked until it is answered, in nobody's way; the
 * answer is kept with the circuit, and the question is gone with it.
 */
export function AskPlace({ sensor }: { sensor: Sensor }) {
  const [fault, setFault] = useState('');
  const [saving, setSaving] = useState(false);
  if (sensor.at !== 'unstated') return null;
  const { circuit } = sensor;
  const text = words.circuit.place;
  const say = async (sensorAt: 'outlet' | 'machine') => {
    if (!circuit) return;
    setFault('');
    setSaving(true);
    try {
      await saveOfCircuit(circuit.id, { sensorAt });
    } catch (error) {
      setFault((error as Error).message);
    }
    setSaving(false);
  };
  return (
    <section class="ask-place no-print" aria-labelledby="ask-place">
      <h2 id="ask-place">{text.question}</h2>
      <p>{text.why}</p>
      <p class="actions">
        {circuit ? (
          (['outlet', 'machine'] as const).map((at) => (
            <button key={at} type="button" disabled={saving} onClick={() => say(at)}>
              {text[at]}
            </button>
          ))
        ) : (
          <a class="button" href="#/shop">
            {text.noCircuit}
          </a>
        )}
      </p>
      <p class="fault" role="alert">
        {fault}
      </p>
    </section>
  );
}
