import type { Remedy } from '../../../../shared/protocol/remedy.ts';
import { figure } from '../parts/format.ts';

/** Ways out: what the shop can do itself first, what an electrician must do marked as such. */
export function RemedyList({ remedies }: { remedies: readonly Remedy[] }) {
  const ordered = [...remedies].sort((a, b) => Number(a.who !== 'shop') - Number(b.who !== 'shop'));
  return (
    <ul class="remedies">
      {ordered.map((remedy) => (
        <li key={remedy.says}>
          <p>
            {remedy.says}
            {remedy.who === 'electrician' && <strong> For a licensed electrician.</strong>}
          </p>
          <p class="where">
            About {figure(remedy.volts, 0)} V at the machine, {figure(remedy.volts95[0], 0)} to{' '}
            {figure(remedy.volts95[1], 0)}; {figure(remedy.needsVolts, 0)} V are needed.
          </p>
        </li>
      ))}
    </ul>
  );
}
