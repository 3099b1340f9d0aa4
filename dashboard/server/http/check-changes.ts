import type { FastifyRequest } from 'fastify';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { Sensor } from '../../../shared/protocol/http.ts';
import type { Check, NewCheck } from '../../../shared/protocol/http-check.ts';
import type { CheckChoice } from '../../../shared/protocol/outlet-check.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { say } from '../../../shared/rules/say.ts';
import { audited } from '../people/audited.ts';
import { checkNames, signature, stampOf } from '../people/signature.ts';
import type { Stamp } from '../store/stock-store.ts';
import { hangsOn } from './hang.ts';
import { ProblemError } from './problems.ts';
import { must, type Parts } from './routes.ts';

/** Begins a check of what the person says stands at the outlet, and hangs that on the sensor. */
export function beginChecked(parts: Parts, request: FastifyRequest, wish: NewCheck): Check {
  const { store, floor, ingest } = parts;
  const { sensor: id, place, cordFrom, cords } = wish;
  const person = signature(request, 'person', wish.person);
  checkNames({ person, place });
  try {
    return audited(store, request, (note) => {
      const before = hangsOn(store, id);
      const sensor = setUp(parts, wish, stampOf(request));
      const begun = floor.checks.begin(sensor, { person, place, cordFrom });
      const after = { ...hangsOn(store, id), cords, place };
      const said = say('checkBegun', { by: person, sensor: id, place });
      note({ area: 'checks', subject: `check ${begun.id}`, ...said, before, after });
      return begun;
    });
  } catch (error) {
    // What the floor was told may not be what is stored.
    ingest.reassign();
    throw error;
  }
}

/** Gives the sensor as it is with all of it. */
function setUp(
  { store, floor, ingest }: Parts,
  { sensor, circuit: circuitId, plate, cords }: NewCheck,
  stamp: Stamp,
): Sensor {
  const hung = floor.sensor(sensor);
  if (!hung) throw new ProblemError('not-found', `there is no sensor "${sensor}"`);
  const stored = store.circuits.one(circuitId);
  if (!stored) throw new ProblemError('not-found', `no circuit ${circuitId}`);
  const before = JSON.stringify(stored.value);
  const circuit: Circuit = must(readCircuit({ ...stored.value, cords }));
  const sameCircuit = JSON.stringify(circuit) === before;
  const samePlace = hung.circuit?.id === circuitId && hung.plate?.id === plate;
  if (!samePlace && !store.assign(sensor, circuitId, plate))
    throw new ProblemError('not-found', `no plate ${plate}, or one of the two is retired`);
  if (!sameCircuit) store.circuits.set(circuitId, circuit, stamp);
  if (!sameCircuit || !samePlace) ingest.reassign();
  return hung;
}

/** Goes on with a check; its end is noted. Null where there is no such check. */
export function chosen(
  { store, floor }: Parts,
  request: FastifyRequest,
  id: number,
  choice: CheckChoice,
): Check | null {
  return audited(store, request, (note) => {
    const before = floor.checks.view(id);
    const after = floor.checks.choose(id, choice);
    if (!before || !after) return null;
    const { step } = after.telling;
    const verdict = after.result?.verdict ?? null;
    const of = { check: id, sensor: after.sensor };
    const said = verdict ? say('checkJudged', { ...of, verdict }) : say('checkStopped', of);
    const is = { step, verdict };
    const was = { step: before.telling.step };
    if (was.step !== step && (step === 'judged' || step === 'stopped'))
      note({ area: 'checks', subject: `check ${id}`, ...said, before: was, after: is });
    return after;
  });
}
