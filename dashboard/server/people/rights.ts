import type { Role } from '../../../shared/protocol/http-people.ts';

const ranks: Record<Role, number> = { watch: 0, weld: 1, lead: 2 };

/**
 * The least role that each change asks for, by the route's own pattern under `/api/v1`; looking
 * asks for `watch` where nothing else is said. A new route that changes something gets its line
 * here: until then it is for leads alone, and a test names it.
 */
const rights: Readonly<Record<string, Role>> = {
  'PUT /arcs/:id/acknowledgement': 'weld',
  'POST /checks': 'weld',
  'POST /checks/:id/choice': 'weld',
  'POST /recordings': 'weld',
  'POST /jobs': 'weld',
  'POST /jobs/:id/close': 'weld',
  'POST /jobs/:id/set-ups': 'weld',
  'POST /set-ups/:id/clock': 'weld',
  'POST /set-ups/:id/end': 'weld',
  'POST /set-ups/:id/coupons': 'weld',
  'PUT /coupons/:id/arcs': 'weld',
  'PUT /coupons/:id/visual': 'weld',
  'PUT /coupons/:id/destructive': 'weld',
  'POST /coupons/:id/decision': 'weld',
  // Whoever stands at the device says who it is.
  'POST /me': 'watch',
  'DELETE /me': 'watch',
  // Worked out and answered, nothing is kept.
  'POST /plan': 'watch',
  'PUT /sensors/:sensor/assignment': 'lead',
  'POST /circuits': 'lead',
  'PUT /circuits/:id': 'lead',
  'POST /plates': 'lead',
  'PUT /plates/:id': 'lead',
  'POST /feeders': 'lead',
  'PUT /feeders/:id': 'lead',
  'PUT /circuits/:id/retirement': 'lead',
  'PUT /plates/:id/retirement': 'lead',
  'PUT /feeders/:id/retirement': 'lead',
  'PUT /settings': 'lead',
  'POST /people': 'lead',
  'PUT /people/:id': 'lead',
  'GET /audit': 'lead',
  'GET /audit.csv': 'lead',
};

/** Null where no line says; then it is a lead's. */
export function saidRight(method: string, route: string): Role | null {
  const looks = method === 'GET' || method === 'HEAD';
  return rights[`${looks ? 'GET' : method} ${route}`] ?? (looks ? 'watch' : null);
}

export const rightOf = (method: string, route: string): Role => saidRight(method, route) ?? 'lead';

export const isEnough = (role: Role, needed: Role): boolean => ranks[role] >= ranks[needed];
