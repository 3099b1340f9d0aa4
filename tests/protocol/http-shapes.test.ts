import type { Static } from 'typebox';
import { expectTypeOf, it } from 'vitest';
import type { FeederLoad } from '../../shared/protocol/feeder.ts';
import type {
  CheckAboutSchema,
  CheckResultSchema,
  CheckTellingSchema,
  ChosenStep,
  StalenessSchema,
} from '../../shared/protocol/http-check.ts';
import type {
  FeederLoadSchema,
  PlanSchema,
  RemedySchema,
} from '../../shared/protocol/http-plan.ts';
import type {
  CheckAbout,
  CheckChoice,
  CheckResult,
  CheckStaleness,
  CheckTelling,
} from '../../shared/protocol/outlet-check.ts';
import type { Plan } from '../../shared/protocol/planning.ts';
import type { Remedy } from '../../shared/protocol/remedy.ts';

it('the schemas say what the types of checks and plans say (checked by the compiler)', () => {
  expectTypeOf<Static<typeof RemedySchema>>().toEqualTypeOf<Remedy>();
  expectTypeOf<Static<typeof PlanSchema>>().toEqualTypeOf<Plan>();
  expectTypeOf<Static<typeof FeederLoadSchema>>().toEqualTypeOf<FeederLoad>();
  expectTypeOf<Static<typeof CheckAboutSchema>>().toEqualTypeOf<CheckAbout>();
  expectTypeOf<Static<typeof CheckTellingSchema>>().toEqualTypeOf<CheckTelling>();
  expectTypeOf<Static<typeof CheckResultSchema>>().toEqualTypeOf<CheckResult>();
  expectTypeOf<Static<typeof StalenessSchema>>().toEqualTypeOf<CheckStaleness>();
  expectTypeOf<Static<typeof ChosenStep>>().toEqualTypeOf<{ choice: CheckChoice }>();
});
