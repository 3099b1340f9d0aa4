import type { FastifyRequest } from 'fastify';
import { ProblemError } from '../http/problems.ts';

/**
 * The name under what is done: of the person who is signed in, else the one that was typed.
 * @throws ProblemError where there is neither.
 */
export function signature(
  { who }: Pick<FastifyRequest, 'who'>,
  key: string,
  typed: string | undefined,
): string {
  const name = who.person?.name ?? typed;
  if (name === undefined)
    throw new ProblemError('bad-request', `${key} is needed: nobody is signed in`);
  return name;
}
