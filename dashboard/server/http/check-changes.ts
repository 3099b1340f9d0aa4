import type { FastifyRequest } from 'fastify';
import type { Sensor } from '../../../shared/protocol/http.ts';
import type { Check, NewCheck } from '../../../shared/protocol/http-check.ts';
import type { CheckChoice } from '../../../shared/protocol/outlet-check.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { sameCords } from '../../../shared/rules/outlet-check-stale.ts';
import { say } from '../../../shared/rules/say.ts';
import { storedCircuit, storedPlate } from '../live/check-subject.ts';
import type { Floor } from '../live/floor.ts';
import { audited } from '../people/audited.ts';
import { checkNames, signature } from '../people/signature.ts';
import type { CheckSubject, Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';
import { must, type Parts } from './routes.ts';

/** Begins a check of what the person says stands at the outlet; the shop stays as it is. */
export function beginChecked(parts: Parts, request: FastifyRequest, wish: NewCheck): Check {
  const { store, floor } = parts;
  const { sensor: id, place, cordFrom, cords } = wish;
  const person = signature(request, 'person', wish.person);
  checkNames({ person, place });
  const sensor = floor.sensor(id);
  if (!sensor) throw new ProblemError('not-found', `there is no sensor "${id}"`);
  const subject = subjectOf(store, wish);
  if (burnsAt(floor, sensor, subject))
    throw new ProblemError('not-now', 'wait: an arc is burning here');
  return audited(store, request, (note) => {
    const begun = floor.checks.begin(sensor, subject, { person, place, cordFrom });
    const { circuit, plate } = subject;
    const after = {
      circuit: { id: circuit.id, name: circuit.circuit.name },
      plate: { id: plate.id, name: plate.plate.name },
      ...{ cords, place },
    };
    const said = say('checkBegun', { by: person, sensor: id, place });
    note({ area: 'checks', subject: `check ${begun.id}`, ...said, before: null, after });
    return begun;
  });
}

/** A weld under way belongs to nobody's check, and moves the voltage that is to be read. */
function burnsAt(floor: Floor, sensor: Sensor, { circuit }: CheckSubject): boolean {
  return floor
    .sensors()
    .some((one) => one.openArc && (one.id === sensor.id || one.circuit?.id === circuit.id));
}

function subjectOf(store: Store, wish: NewCheck): CheckSubject {
  const circuit = storedCircuit(store, wish.circuit);
  if (!circuit || circuit.retired)
    throw new ProblemError('not-found', `no circuit ${wish.circuit} in use`);
  const plate = storedPlate(store, wish.plate);
  if (!plate || plate.retired) throw new ProblemError('not-found', `no plate ${wish.plate} in use`);
  const described = must(readCircuit({ ...circuit.circuit, cords: wish.cords }));
  const otherCords = !sameCords(wish.cords, circuit.circuit.cords ?? []);
  return { circuit: { ...circuit, circuit: described }, plate, otherCords };
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
