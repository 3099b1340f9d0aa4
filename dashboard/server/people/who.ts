import type { Person, Role } from '../../../shared/protocol/http-people.ts';

/** Who asks: settled once for each request, before its route. */
export interface Who {
  /** Null: nobody is signed in on the device. */
  person: Person | null;
  /** When the person's session ends. */
  untilMs: number | null;
  role: Role;
  /** Network address; null: this machine. */
  device: string | null;
}

declare module 'fastify' {
  interface FastifyRequest {
    who: Who;
  }
}
