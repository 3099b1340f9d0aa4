import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import type { Problem } from '../../../shared/protocol/http.ts';

/** Every way in which a request can fail, with its status. */
export const problems = {
  'not-found': [404, 'There is no such thing'],
  'bad-request': [400, 'The request is not as it must be'],
  'access-code-needed': [401, 'An access code is needed'],
  'access-code-wrong': [403, 'The access code is wrong'],
  'not-signed-in': [401, 'Somebody must be signed in for this'],
  'not-allowed': [403, 'Who is signed in may not do this'],
  'pin-wrong': [403, 'The PIN is wrong'],
  'pin-locked': [429, 'Too many wrong PINs'],
  'last-lead': [409, 'There must be a lead'],
  'wrong-origin': [403, 'Another site may not ask for this'],
  'wrong-host': [421, 'This server does not go by that name'],
  'too-many': [429, 'Too many requests'],
  'too-large': [413, 'The request is too long'],
  'changed-meanwhile': [409, 'Somebody else changed it meanwhile'],
  'in-use': [409, 'It is in use'],
  full: [409, 'There are as many as there may be'],
  'not-now': [409, 'It cannot be done as things stand'],
  internal: [500, 'The server failed'],
} as const satisfies Record<string, readonly [number, string]>;
export type ProblemCode = keyof typeof problems;

/** Thrown in a route, told as RFC 9457. */
export class ProblemError extends Error {
  override name = 'ProblemError';
  readonly code: ProblemCode;

  constructor(code: ProblemCode, detail: string) {
    super(detail);
    this.code = code;
  }
}

export function problem(code: ProblemCode, detail: string): Problem {
  const [status, title] = problems[code];
  return { type: `urn:stiffline:problem:${code}`, title, status, detail, code };
}

export function sendProblem(reply: FastifyReply, code: ProblemCode, detail: string): FastifyReply {
  const [status] = problems[code];
  return reply.code(status).type('application/problem+json').send(problem(code, detail));
}

/** A defect of ours tells the caller nothing of its inside; the log has it. */
export function onError(error: FastifyError, request: FastifyRequest, reply: FastifyReply) {
  if (error instanceof ProblemError) return sendProblem(reply, error.code, error.message);
  if (error.validation) {
    const [first] = error.validation;
    const place = `${error.validationContext ?? 'request'}${first?.instancePath ?? ''}`;
    return sendProblem(reply, 'bad-request', `${place} ${first?.message ?? error.message}`);
  }
  if (error.statusCode === 429)
    return sendProblem(reply, 'too-many', 'too many tries: try again in a minute');
  if (error.statusCode === 413) {
    const most = Math.floor((request.routeOptions.bodyLimit ?? 0) / 1024);
    return sendProblem(reply, 'too-large', `more than ${most} kB: no more is taken at once`);
  }
  if (error.statusCode && error.statusCode < 500)
    return sendProblem(reply, 'bad-request', error.message);
  request.log.error(error);
  return sendProblem(reply, 'internal', 'see the log of the server');
}
