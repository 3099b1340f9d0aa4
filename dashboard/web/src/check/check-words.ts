import type { Cord } from '../../../../shared/protocol/circuit.ts';
import type { CheckChoice, CheckStep } from '../../../../shared/protocol/outlet-check.ts';

export const choiceWords: Record<CheckChoice, string> = {
  'go-on': 'Go on',
  again: 'Take this step again',
  'with-cord': 'Weld again with the cord',
  'full-setting': 'Weld again at full setting',
  judge: 'Have it judged',
  stop: 'Stop the check',
};

export const stepWords: Record<CheckStep, string> = {
  'no-load': 'Empty outlet',
  idle: 'Machine on, no arc',
  'first-bead': 'Bead on a coupon',
  'second-bead': 'Second bead',
  judged: 'Judged',
  stopped: 'Stopped',
};

/** The way through a check; the second bead is walked only by choice. */
export const way: readonly CheckStep[] = ['no-load', 'idle', 'first-bead', 'judged'];

export function cordWords(cords: readonly Cord[]): string {
  if (cords.length === 0) return 'no cord';
  return cords
    .map(({ awg, mm2, feet, metres }) => {
      const length = feet === undefined ? `${metres} m` : `${feet} ft`;
      return `${length} of ${awg === undefined ? `${mm2} mm²` : `AWG ${awg}`}`;
    })
    .join(' and ');
}
