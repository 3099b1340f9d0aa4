import type { Person, Role } from '../../../shared/protocol/http-people.ts';

/** Where a request came from. */
export interface From {
  /** Network address; null: this machine. */
  device: string | null;
  /** A proxy passed it on. */
  proxied: boolean;
}

/** Who asks: settled once for each request, before its route. */
export interface Who extends From {
  /** Null: nobody is signed in on the device. */
  person: Person | null;
  /** When the person's session ends. */
  untilMs: number | null;
  role: Role;
}

/**
 * Where nobody is signed in: this machine may all. Another device may look; as long as nobody is
 * named it may all, too, but not through a proxy, which may bring anybody.
 */
export function nobodyAt({ device, proxied }: From, anybodyNamed: boolean): Who {
  const mayAll = device === null || !(proxied || anybodyNamed);
  return { person: null, untilMs: null, role: mayAll ? 'lead' : 'watch', device, proxied };
}

declare module 'fastify' {
  interface FastifyRequest {
    who: Who;
  }
}
