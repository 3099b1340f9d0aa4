import { useState } from 'preact/hooks';
import type { Check } from '../../../../shared/protocol/http-check.ts';
import { assign, check, saveOfCircuit } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import { cordWords } from './check-words.ts';

interface SaveOfferProps {
  of: Check;
  onSaved(check: Check): void;
}

/** A check changes nothing in the shop. What it was of can be saved here, by who may. */
export function SaveOffer({ of, onSaved }: SaveOfferProps) {
  const [fault, setFault] = useState('');
  const { unsaved, sensor, result } = of;
  if (!unsaved || sensor === null || !result) return null;
  // A machine that must not be plugged in is not offered to be assigned.
  const assignable = unsaved.assignment && result.verdict !== 'unsuited';
  if (!unsaved.cords && !assignable) return null;
  const text = words.check.save;
  const save = async (work: () => Promise<unknown>) => {
    setFault('');
    try {
      await work();
      onSaved(await check(of.id));
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  const { circuit, plate } = unsaved;
  return (
    <section class="no-print">
      <h2>{text.heading}</h2>
      <p>{text.what}</p>
      <p class="fault" role="alert">
        {fault}
      </p>
      <div class="choices-now">
        {unsaved.cords && (
          <button
            type="button"
            class="wide"
            onClick={() => save(() => saveOfCircuit(circuit, { cords: result.cords }))}
          >
            {result.cords.length > 0 ? text.cord(cordWords(result.cords)) : text.noCord}
          </button>
        )}
        {assignable && (
          <button
            type="button"
            class="wide"
            onClick={() => save(() => assign(sensor, { circuit, plate }))}
          >
            {text.assignment(
              result.machine ?? words.check.noMachine,
              result.circuit ?? words.check.noCircuit,
            )}
          </button>
        )}
      </div>
    </section>
  );
}
