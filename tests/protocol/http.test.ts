import type { Static } from 'typebox';
import { expectTypeOf, it } from 'vitest';
import type { ArcSchema, FindingSchema, VerdictSchema } from '../../shared/protocol/http.ts';
import type { Arc, Finding, Verdict } from '../../shared/protocol/judgement.ts';

it('the schemas say what the judgement types say (checked by the compiler)', () => {
  expectTypeOf<Static<typeof VerdictSchema>>().toEqualTypeOf<Verdict>();
  expectTypeOf<Static<typeof FindingSchema>>().toEqualTypeOf<Finding>();
  expectTypeOf<Static<typeof ArcSchema>>().toEqualTypeOf<Arc>();
});
