import type { FastifyRequest } from 'fastify';
import { nameFaults } from '../../../shared/protocol/schema-faults.ts';
import { ProblemError } from '../http/problems.ts';
import type { Stamp } from '../store/stock-store.ts';

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

/** When, and by whom where somebody is signed in. */
export const stampOf = ({ who }: Pick<FastifyRequest, 'who'>): Stamp => ({
  atUs: Date.now() * 1_000,
  by: who.person?.name ?? null,
});

/** @throws ProblemError for words that are no name, by their keys. */
export function checkNames(words: Readonly<Record<string, string>>): void {
  for (const [key, name] of Object.entries(words))
    for (const { says } of nameFaults(name))
      throw new ProblemError('bad-request', `${key} ${says}`);
}
