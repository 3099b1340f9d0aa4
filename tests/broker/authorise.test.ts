import { describe, expect, it } from 'vitest';
import { mayPublish, maySubscribe } from '../../broker/authorise.ts';

const sensor = { role: 'sensor', site: 'harbour-lane', sensor: 'bay-1' } as const;
const server = { role: 'server' } as const;
const own = 'stiffline/v1/harbour-lane/bay-1';
const other = 'stiffline/v1/harbour-lane/bay-2';

describe('who may say what', () => {
  it.each([
    [sensor, `${own}/wave`, false, true],
    [sensor, `${own}/about`, true, true],
    [sensor, `${own}/state`, true, true],
    [sensor, `${own}/wave`, true, false],
    [sensor, `${other}/wave`, false, false],
    [sensor, `${own}/keep`, false, false],
    [sensor, `${own}/wave/more`, false, false],
    [sensor, '$SYS/heartbeat', false, false],
    [server, `${own}/keep`, false, true],
    [server, `${own}/ask`, false, true],
    [server, `${own}/wave`, false, false],
  ] as const)('%o publishes %s, retained %s: %s', (account, topic, retain, may) => {
    expect(mayPublish(account, topic, retain)).toBe(may);
  });

  it.each([
    [sensor, `${own}/keep`, true],
    [sensor, `${own}/ask`, true],
    [sensor, `${own}/wave`, false],
    [sensor, `${own}/+`, false],
    [sensor, `${other}/keep`, false],
    [sensor, 'stiffline/#', false],
    [sensor, '#', false],
    [server, 'stiffline/v1/+/+/wave', true],
    [server, '#', false],
    [server, '$SYS/#', false],
  ] as const)('%o subscribes to %s: %s', (account, filter, may) => {
    expect(maySubscribe(account, filter)).toBe(may);
  });
});
