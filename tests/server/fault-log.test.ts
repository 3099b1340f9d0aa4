import { expect, it } from 'vitest';
import { FaultLog } from '../../dashboard/server/ingest/fault-log.ts';
import { limits } from '../../dashboard/server/limits.ts';

const bay = (n: number) => `shop.bay-${n}`;
const wrong = (says = 'wrong') => ({ fault: 'wrong-shape' as const, says });

it('says each sort of each sensor once a minute, and how often it came since', () => {
  const said: string[] = [];
  let nowMs = 0;
  const log = new FaultLog(
    (line) => said.push(line),
    () => nowMs,
  );
  for (let n = 0; n < 1_000; n++) log.note(bay(1), 'rows', wrong());
  log.note(bay(2), 'rows', wrong('another'));
  log.note(bay(1), 'wave', wrong('a block'));
  expect(said).toEqual(['wrong', 'another', 'a block']);
  nowMs = limits.faultSaidMs - 1;
  log.note(bay(1), 'rows', wrong());
  expect(said).toHaveLength(3);
  nowMs++;
  log.note(bay(1), 'rows', wrong());
  expect(said.at(-1)).toBe('wrong (and 1000 more since it was last said)');
  expect(log.counts).toEqual({ 'wrong-shape': 1_004 });
  expect(log.named()[0]).toEqual({
    ...{ sensor: bay(1), kind: 'rows', fault: 'wrong-shape', count: 1_002 },
  });
});

it('says no more lines a minute than a person reads, whoever sends', () => {
  const said: string[] = [];
  let nowMs = 0;
  const log = new FaultLog(
    (line) => said.push(line),
    () => nowMs,
  );
  for (let n = 0; n < 500; n++) log.note(bay(n), 'rows', wrong(`${n}`));
  expect(said).toHaveLength(limits.faultLines);
  nowMs = limits.faultSaidMs;
  log.note(bay(499), 'rows', wrong('the last'));
  expect(said.at(-1)).toBe('the last (and 1 more since it was last said)');
});

it('bounds what is counted apart; beyond it all is still counted', () => {
  const log = new FaultLog(() => {});
  for (let n = 0; n < limits.namedFaults + 50; n++) log.note(bay(n), 'rows', wrong());
  expect(log.counts['wrong-shape']).toBe(limits.namedFaults + 50);
  expect(log.named()).toHaveLength(limits.namedFaults + 1);
  expect(log.named().at(-1)).toMatchObject({ sensor: 'others', kind: 'others', count: 50 });
});

it('writes what a client sent in one line that moves no cursor', () => {
  const said: string[] = [];
  const log = new FaultLog((line) => said.push(line));
  log.note(bay(1), 'state', wrong(`/health/\u001b[2J\n\u202e${'x'.repeat(9_999)}`));
  expect(said[0]).toMatch(/^\/health\/\?\[2J\?\?x+$/);
  expect(said[0]).toHaveLength(limits.faultLineLength);
});

it('counts what is not worth a line, and does not say it', () => {
  const said: string[] = [];
  const log = new FaultLog((line) => said.push(line));
  log.note(bay(1), 'rows', { fault: 'unknown-sensor', says: 'early' }, true);
  expect(said).toEqual([]);
  expect(log.counts).toEqual({ 'unknown-sensor': 1 });
});
