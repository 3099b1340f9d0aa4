import { describe, expect, it } from 'vitest';
import {
  formatTopic,
  isTopicWord,
  parseSensorId,
  parseTopic,
  sensorId,
} from '../../shared/protocol/topics.ts';

describe('topics', () => {
  it('reads back what it wrote', () => {
    const topic = formatTopic('harbour-lane', 'bay-1', 'wave');
    expect(topic).toBe('stiffline/v1/harbour-lane/bay-1/wave');
    expect(parseTopic(topic)).toEqual({ site: 'harbour-lane', sensor: 'bay-1', kind: 'wave' });
  });

  it.each([
    'stiffline/v2/harbour-lane/bay-1/wave',
    'stiffline/v1/harbour-lane/bay-1/waves',
    'stiffline/v1/harbour-lane/bay-1',
    'stiffline/v1/harbour-lane/bay-1/wave/more',
    'stiffline/v1/Harbour/bay-1/wave',
    'stiffline/v1/harbour-lane/+/wave',
    'stiffline/v1//bay-1/wave',
    '$SYS/broker/heartbeat',
    '',
  ])('knows %j for none of ours', (topic) => {
    expect(parseTopic(topic)).toBeNull();
  });

  it.each([
    ['bay-1', true],
    ['7', true],
    ['a'.repeat(32), true],
    ['a'.repeat(33), false],
    ['-bay', false],
    ['bay-', false],
    ['bay.1', false],
    ['bäy', false],
    ['', false],
  ])('%j as a word: %s', (name, good) => {
    expect(isTopicWord(name)).toBe(good);
  });

  it('joins and parts a sensor id', () => {
    expect(parseSensorId(sensorId('harbour-lane', 'bay-1'))).toEqual({
      site: 'harbour-lane',
      sensor: 'bay-1',
    });
    expect(parseSensorId('bay-1')).toBeNull();
    expect(parseSensorId('a.b.c')).toBeNull();
  });
});
