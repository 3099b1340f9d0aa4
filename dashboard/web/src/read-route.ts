/** Where the page is; the address after `#` says it, so it survives reload and can be sent on. */
export type Route =
  | { view: 'floor' }
  | { view: 'wall' }
  | { view: 'flags'; sensor: string | null }
  | { view: 'circuit'; sensor: string }
  | { view: 'arc'; id: number; beside: number | null }
  | { view: 'checks'; sensor: string | null }
  | { view: 'check'; id: number }
  | { view: 'right'; sensor: string }
  | { view: 'plan' }
  | { view: 'jobs' }
  | { view: 'job'; id: number }
  | { view: 'new-set-up'; id: number }
  | { view: 'set-up'; id: number }
  | { view: 'welds'; id: number; arc: number | null }
  | { view: 'settings' }
  | { view: 'shop' }
  | { view: 'people' }
  | { view: 'audit' }
  | { view: 'edit-plate'; id: number | null }
  | { view: 'edit-circuit'; id: number | null }
  | { view: 'edit-feeder'; id: number | null };

/** `#/arc/17/beside/23`; what is no address of this page leads to the floor. */
export function readRoute(text: string): Route {
  const parts = text.replace(/^#\/?/, '').split('/').map(decoded);
  const [view = '', first = '', second = '', third = ''] = parts;
  const id = /^\d{1,15}$/.test(first) ? Number(first) : null;
  switch (view) {
    case 'wall':
    case 'plan':
    case 'settings':
    case 'shop':
    case 'jobs':
    case 'people':
    case 'audit':
      return { view };
    case 'job':
    case 'new-set-up':
    case 'set-up':
      return id === null ? { view: 'jobs' } : { view, id };
    case 'welds': {
      if (id === null) return { view: 'jobs' };
      return { view, id, arc: /^\d{1,15}$/.test(second) ? Number(second) : null };
    }
    case 'checks':
    case 'flags':
      return { view, sensor: first || null };
    case 'circuit':
      return first ? { view, sensor: first } : { view: 'floor' };
    case 'right':
      return first ? { view, sensor: first } : { view: 'floor' };
    case 'check':
      return id === null ? { view: 'checks', sensor: null } : { view, id };
    case 'edit-plate':
    case 'edit-circuit':
    case 'edit-feeder':
      return { view, id };
    case 'arc': {
      if (id === null) return { view: 'floor' };
      const beside = second === 'beside' && /^\d{1,15}$/.test(third) ? Number(third) : null;
      return { view, id, beside };
    }
    default:
      return { view: 'floor' };
  }
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return '';
  }
}
