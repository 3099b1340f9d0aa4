import type { Remedy } from '../../../../shared/protocol/remedy.ts';
import { said } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { VoltsLadder } from '../plan/plan-feeders.tsx';

/**
 * Changes after which the machine gets what it needs: the shop's own first. The first has its
 * picture; those of the others would look the same and push each other off the screen.
 */
export function RemedyList({ remedies }: { remedies: readonly Remedy[] }) {
  const whose = { shop: words.plan.yourselves, electrician: words.plan.anElectrician };
  return (
    <ol class="remedies">
      {remedies.map(({ says, saying, who, volts, volts95, needsVolts }, index) => (
        <li key={says}>
          <div class="with-ladder">
            <p>
              <strong>{whose[who]}</strong> {said({ says, saying })}
            </p>
            {index === 0 && <VoltsLadder {...{ volts, volts95, needsVolts }} />}
          </div>
        </li>
      ))}
    </ol>
  );
}
