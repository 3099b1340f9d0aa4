import { describe, expect, test } from 'vitest';
import { type Flag, readFlags, usage, type Verb } from '../../shared/command/flags.ts';
import { UsageError } from '../../shared/command/outcome.ts';

const flags = {
  json: { kind: 'switch', says: 'machine-readable' },
  plate: { kind: 'text', says: 'plate file' },
  'http-port': { kind: 'number', says: 'port', value: 8480, min: 0, max: 65535, whole: true },
  'fail-on': { kind: 'text', says: 'verdict', choices: ['marginal', 'underpowered'] },
} as const satisfies Record<string, Flag>;

const verb: Verb<typeof flags> = {
  name: 'judge',
  says: 'judges a recording',
  words: ['RECORDING', 'SECOND?'],
  flags,
};

describe('readFlags', () => {
  test('flags stand over environment, environment over defaults', () => {
    const read = (argv: string[], environment = {}) => readFlags(verb, argv, environment);
    expect(read(['a.csv']).flags['http-port']).toBe(8480);
    const environment = { STIFFLINE_HTTP_PORT: '9000' };
    expect(read(['a.csv'], environment).flags['http-port']).toBe(9000);
    expect(read(['a.csv', '--http-port', '0'], environment).flags['http-port']).toBe(0);
    expect(read(['a.csv', '--json']).flags.json).toBe(true);
    expect(read(['a.csv']).flags.json).toBe(false);
  });

  test.each([
    [[] as string[], 'RECORDING is missing'],
    [['a', 'b', 'c'], '"c" is one word too many'],
    [['a', '--wrong'], "Unknown option '--wrong'"],
    [['a', '--http-port', '70000'], 'a whole number from 0 to 65535 is needed'],
    [['a', '--http-port', 'x'], '--http-port "x"'],
    [['a', '--http-port', '1.5'], 'whole number'],
    [['a', '--fail-on', 'bad'], 'one of marginal, underpowered is needed'],
  ])('%j is refused: %s', (argv, says) => {
    expect(() => readFlags(verb, argv, {})).toThrow(UsageError);
    expect(() => readFlags(verb, argv, {})).toThrow(says);
  });

  test('an environment value is checked like a flag, and named', () => {
    const read = () => readFlags(verb, ['a'], { STIFFLINE_HTTP_PORT: 'x' });
    expect(read).toThrow('STIFFLINE_HTTP_PORT "x"');
  });

  test('the help names every flag and word', () => {
    const text = usage(verb);
    expect(text).toContain('stiffline judge RECORDING [SECOND]');
    for (const name of Object.keys(verb.flags)) expect(text).toContain(`--${name}`);
  });
});
