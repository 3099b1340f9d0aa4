import { describe, expect, test } from 'vitest';
import { choicesOf } from '../../shared/rules/outlet-check.ts';
import { checkRecording } from '../../shared/rules/outlet-check-recording.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import {
  about,
  bead,
  choose,
  circuit,
  corded,
  first,
  fiveQuiet,
  quiet,
  start,
  through,
  weld,
} from './check-given.ts';
import { plate, setting, supply } from './given.ts';

const judged = (check: OutletCheck) => through(check, choose('judge')).result!;
const weak = supply({ ohmsR: 0.9 });

describe('below its own evidence', () => {
  test('a short bead proves nothing good, and says what is missing', () => {
    const result = judged(through(first, weld(bead(26, 1))));
    expect(result.verdict).toBe('unproven');
    expect(result.toProve![0]).toBe('Weld a longer bead.');
    const said = result.findings.find(
      ({ verdict, required }) => verdict === 'unproven' && required,
    );
    expect(said!.says).toBe('The bead was 1.00 s long; 2 s are needed.');
  });

  test.each([
    ['light', bead(5, 3)],
    ['of a supply that was not estimated', bead(26, 3, corded, { ...supply(), pairs: [null] })],
  ])('a bead %s is unproven', (_, given) => {
    expect(judged(through(first, weld(given))).verdict).toBe('unproven');
  });

  test('a bead whose full load the rules call unproven is not enough, and says why', () => {
    const once = bead(26, 3, corded, supply({ steps: 1 }));
    const full = once.arc.findings.find(({ rule }) => rule === 'full-load')!;
    expect(full.verdict).toBe('unproven');
    const check = through(first, weld(once));
    const want = tellCheck(check).wants.find(({ id }) => id === 'estimated')!;
    expect(want).toMatchObject({ enough: false, says: full.says });
    expect(tellCheck(check).enough).toBe(false);
    expect(judged(check)).toMatchObject({ verdict: 'unproven' });
    expect(judged(check).toProve).toContain(want.doNow);
  });

  test('what was seen to fail is told all the same', () => {
    expect(judged(through(first, weld(bead(26, 1, corded, weak)))).verdict).toBe('underpowered');
  });

  test('a bead that is enough is judged as before', () => {
    expect(judged(through(first, weld(bead(26, 2)))).verdict).toBe('adequate');
  });

  test('the first bead vouches for a second that was broken off at full setting', () => {
    const light = through(first, weld(bead(12)), choose('full-setting'));
    expect(judged(through(light, weld(bead(26, 1)))).verdict).toBe('adequate');
    // With the cord the second bead is the only one that tells of it.
    const here = setting({ circuit: { ...circuit, sensorAt: 'machine' } });
    const at = through({ ...first, setting: here }, weld(bead(26, 3, here)), choose('with-cord'));
    expect(judged(through(at, weld(bead(26, 1, here)))).verdict).toBe('unproven');
  });

  test('a recording is held to the same', () => {
    expect(checkRecording(about, corded, [bead(26, 1)]).result!.verdict).toBe('unproven');
    expect(checkRecording(about, corded, [bead(26, 3)]).result!.verdict).toBe('adequate');
  });
});

describe('which bead had the cord', () => {
  const cords = (check: OutletCheck) => judged(check).beads.map(({ withCord }) => withCord);
  const fromFirst = { ...about, cordFrom: 'first-bead' as const };

  test('the second, where it was to come with the second', () => {
    expect(cords(through(first, weld(), choose('with-cord'), weld()))).toEqual([false, true]);
    expect(cords(through(first, weld()))).toEqual([false]);
    const light = through(first, weld(bead(12)), choose('full-setting'), weld());
    expect(cords(light)).toEqual([false, false]);
  });

  test('both, where it was there from the first; none is said where there is no cord', () => {
    const all = { ...first, about: fromFirst };
    expect(cords(through(all, weld(bead(12)), choose('full-setting'), weld()))).toEqual([
      true,
      true,
    ]);
    const bare = setting({ circuit: { ...circuit, cords: [] } });
    expect(cords(through({ ...first, setting: bare }, weld(bead(26, 3, bare))))).toEqual([null]);
  });
});

describe('a machine that must not be plugged in', () => {
  const light = setting({
    plate: { ...plate, supply: [{ U1: 120, I1max: 20 }] },
    rated: { U1: 120, I1max: 20 },
    circuit: null,
  });
  const described = { ...light, circuit: { name: 'bay 2', volts: 240, phases: 1 as const } };
  const seen = through(start(light), ...fiveQuiet);

  test('is told by the description before anything is read', () => {
    const told = tellCheck(start(described));
    expect(told).toMatchObject({ step: 'no-load', verdict: 'unsuited' });
    expect(told.warnings.join()).toContain('made for 120 V');
    expect(told.doNow).toBe('Do not plug the machine in here. Take it to another outlet.');
    // Nothing was read yet, and the description may be wrong: the outlet is read first.
    expect(choicesOf(start(described))).toEqual(['again', 'stop']);
  });

  test('is told by what is read, and led no further than to the result', () => {
    expect(tellCheck(through(start(light), quiet(0))).verdict).toBe('unsuited');
    expect(tellCheck(seen)).toMatchObject({ verdict: 'unsuited', enough: true });
    expect(choicesOf(seen)).toEqual(['judge', 'again', 'stop']);
    expect(through(seen, choose('go-on')).step).toBe('no-load');
  });

  test('is judged without any bead', () => {
    const result = judged(seen);
    expect(result).toMatchObject({
      ...{ verdict: 'unsuited', noLoadVolts: 240, idleVolts: null, beads: [] },
      ...{ supply: null, atFullLoad: null, second: null },
    });
    expect(result.findings[0]!.says).toContain('made for 120 V');
    expect(result.cautions[0]).toContain('Do not plug');
    expect(tellCheck(through(seen, choose('judge'))).verdict).toBe('unsuited');
  });

  test('three phases that are not there', () => {
    const three = setting({
      plate: { ...plate, phases: 3 },
      circuit: { name: 'bay 2', volts: 240, phases: 1 },
    });
    const at = through(start(three), ...fiveQuiet);
    expect(tellCheck(at).warnings).toEqual([
      'The machine needs three phases; this circuit has one.',
    ]);
    expect(judged(at).verdict).toBe('unsuited');
  });

  test('is judged so with a bead as well, whatever the bead was like', () => {
    const welded = through(start(described), weld(bead(15, 3, described)));
    expect(judged(welded).verdict).toBe('unsuited');
  });
});
