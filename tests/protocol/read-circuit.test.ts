import { describe, expect, test } from 'vitest';
import { readCircuit } from '../../shared/protocol/read-circuit.ts';
import { readFeeders } from '../../shared/protocol/read-feeder.ts';

const american = { awg: 10, feet: 60 };
const metric = { mm2: 4, metres: 20 };
const read = (change: object) => readCircuit({ name: 'Bay', volts: 240, ...change });
const told = (faults: { path: string; says: string }[]) =>
  faults.map(({ path, says }) => `${path} ${says}`).join('; ');
const refused = (change: object) => {
  const said = read(change);
  return said.ok ? null : told(said.faults);
};

describe('how a circuit is laid', () => {
  test.each([
    { branch: { ...american, insulationCelsius: 90, terminalsCelsius: 75, ambientCelsius: 45 } },
    { branch: { ...metric, insulationCelsius: 70, method: 'B1', groupedCircuits: 9 } },
    { branch: { ...metric, insulationCelsius: 90, method: 'C', ambientCelsius: 80 } },
    { branch: american, cords: [{ awg: 12, feet: 25, ambientCelsius: 40 }] },
    { neutralLoaded: true },
    { neutralLoaded: false, phases: 3 },
    { breakerType: 'D', breakerAmps: 125 },
  ])('is taken where it can be so: %j', (change) => {
    expect(refused(change)).toBe(null);
  });

  test.each([
    [{ branch: { ...american, method: 'B2' } }, /branch[.]method is of metric wire/],
    [{ branch: { ...metric, terminalsCelsius: 75 } }, /branch[.]terminalsCelsius is of AWG/],
    [{ branch: { ...metric, insulationCelsius: 75 } }, /branch[.]insulationCelsius must be 70/],
    [{ branch: { ...metric, insulationCelsius: 60 } }, /branch[.]insulationCelsius must be 70/],
    [{ branch: { ...american, insulationCelsius: 70 } }, /insulationCelsius must be 60, 75 or 90/],
    [{ branch: { ...american, ambientCelsius: 60 } }, /ambientCelsius must be under the 60 °C/],
    [{ branch: { ...metric, ambientCelsius: 70 } }, /ambientCelsius must be under the 70 °C/],
    [
      { branch: { ...american, insulationCelsius: 75, ambientCelsius: 75 } },
      /branch[.]ambientCelsius must be under the 75 °C/,
    ],
    [{ branch: { ...american, groupedCircuits: 0 } }, /branch[.]groupedCircuits/],
    [{ branch: { ...american, groupedCircuits: 10 } }, /branch[.]groupedCircuits/],
    [{ branch: { ...american, groupedCircuits: 2.5 } }, /branch[.]groupedCircuits/],
    [{ branch: { ...metric, method: 'A1' } }, /branch[.]method/],
    [{ branch: { ...american, terminalsCelsius: 90 } }, /branch[.]terminalsCelsius/],
    [{ cords: [{ awg: 12, feet: 9, ambientCelsius: 60 }] }, /cords\[0\][.]ambientCelsius must be/],
    [{ neutralLoaded: true, phases: 3 }, /neutralLoaded is of a single-phase/],
    [{ neutralLoaded: true, volts: 120 }, /neutralLoaded is of a single-phase/],
    [{ neutralLoaded: true, volts: 480 }, /neutralLoaded is of a single-phase/],
    [{ breakerType: 'K' }, /breakerType/],
    [{ breakerType: 'C', breakerAmps: 160 }, /breakerType is of breakers up to 125 A/],
  ])('is refused by its path where it cannot: %j', (change, says) => {
    expect(refused(change)).toMatch(says);
  });

  test('a feeder is refused alike', () => {
    const bay = { name: 'Bay', volts: 240 };
    const feeder = { name: 'F', volts: 240, circuits: ['Bay'] };
    const said = readFeeders([{ ...feeder, conductor: { kcmil: 250, method: 'C' } }], [bay]);
    expect(said.ok ? '' : told(said.faults)).toMatch(
      /\[0\][.]conductor[.]method is of metric wire/,
    );
  });
});
