import type { Remedy } from '../../../../shared/protocol/remedy.ts';
import { said } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { VoltsLadder } from '../plan/plan-feeders.tsx';

/** Changes after which the machine gets what it needs: the shop's own first. */
export function RemedyList({ remedies }: { remedies: readonly Remedy[] }) {
  const whose = { shop: words.plan.yourselves, electrician: words.plan.anElectrician };
  return (
    <ol class="remedies">
      {remedies.map(({ says, saying, who, volts, volts95, needsVolts }) => (
        <li key={says}>
          <div class="with-ladder">
            <p>
              <strong>{whose[who]}</strong> {said({ says, saying })}
            </p>
            <VoltsLadder {...{ volts, volts95, needsVolts }} />
          </div>
        </li>
      ))}
    </ol>
  );
}
