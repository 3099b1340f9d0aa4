import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { readCircuit } from '../../shared/protocol/read-circuit.ts';
import { readPlate } from '../../shared/protocol/read-plate.ts';
import { type FromFile, readJsonFile } from './json-file.ts';

/** A plate or circuit takes a few hundred bytes. */
const mostBytes = 64 * 1024;

/** @throws OperatingError absent, no JSON, or refused by path. */
export const readPlateFile = (path: string): FromFile<Plate> =>
  readJsonFile(path, { what: 'plate', mostBytes, parse: readPlate });

/** @throws OperatingError absent, no JSON, or refused by path. */
export const readCircuitFile = (path: string): FromFile<Circuit> =>
  readJsonFile(path, { what: 'circuit', mostBytes, parse: readCircuit });
