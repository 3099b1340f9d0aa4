import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Program } from '../../shared/command/programs.ts';
import { applySettings, refuseStrangers } from '../../shared/command/settings.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-settings-'));
afterAll(() => rmSync(folder, { recursive: true }));

const program = (name: string, ...flags: string[]): Program => ({
  verb: {
    ...{ name, says: '', words: [] },
    flags: Object.fromEntries(
      flags.map((flag) => [flag, { kind: flag === 'proxy' ? 'list' : 'text', says: '' }]),
    ),
  },
  main: () => Promise.resolve(0),
});
const programs = {
  run: () => Promise.resolve(program('run', 'http-port', 'data', 'proxy')),
  judge: () => Promise.resolve(program('judge', 'plate')),
};
const file = (text: string) => {
  const path = join(folder, 'settings.json');
  writeFileSync(path, text);
  return path;
};

describe('a settings file', () => {
  test('goes under the environment, and speaks to its own verb alone', async () => {
    const environment: Record<string, string | undefined> = { STIFFLINE_DATA: 'mine' };
    const path = file('{"run":{"http-port":8081,"data":"its"},"judge":{"plate":"p.json"}}');
    await applySettings(path, 'run', programs, environment);
    expect(environment).toEqual({ STIFFLINE_DATA: 'mine', STIFFLINE_HTTP_PORT: '8081' });
  });

  test('may hold a list where a flag is one', async () => {
    const environment: Record<string, string | undefined> = {};
    await applySettings(
      file('{"run":{"proxy":["::1","10.0.0.0/8"]}}'),
      'run',
      programs,
      environment,
    );
    expect(environment).toEqual({ STIFFLINE_PROXY: '::1,10.0.0.0/8' });
  });

  test.each([
    ['{"run":{"proxy":[{}]}}', 'run.proxy: a text, a number or true is needed'],
    ['{"run":{"http-prot":1}}', 'run.http-prot is no setting; there are http-port, data'],
    ['{"walk":{}}', '"walk" is no verb; there are run, judge'],
    ['{"run":{"data":[1]}}', 'run.data: a text, a number or true is needed'],
    ['{"run":3}', 'an object with a section a verb is needed'],
    ['[]', 'an object with a section a verb is needed'],
    ['{', 'settings in JSON are needed'],
  ])('%s is refused: %s', async (text, says) => {
    await expect(applySettings(file(text), 'run', programs, {})).rejects.toThrow(says);
  });

  test('that is not there is named', async () => {
    const absent = applySettings(join(folder, 'none.json'), 'run', programs, {});
    await expect(absent).rejects.toThrow('none.json: there is no such file');
  });
});

describe('the environment', () => {
  test('may hold any verb’s settings, and nothing misspelt', async () => {
    await refuseStrangers(programs, { STIFFLINE_PLATE: 'x', PATH: '/', STIFFLINE_DEBUG: '1' });
    const strange = refuseStrangers(programs, { STIFFLINE_HTTP_PROT: '1' });
    await expect(strange).rejects.toThrow('STIFFLINE_HTTP_PROT in the environment is no setting');
  });
});
