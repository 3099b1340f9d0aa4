import { existsSync } from 'node:fs';
import { join } from 'node:path';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import files from '@fastify/static';
import swagger from '@fastify/swagger';
import { TypeBoxValidatorCompiler } from '@fastify/type-provider-typebox';
import websocket from '@fastify/websocket';
import Fastify, { type FastifyInstance } from 'fastify';
import { Type } from 'typebox';
import { livePath } from '../../shared/protocol/live.ts';
import type { Access } from './http/access.ts';
import { arcRoutes, arcStreamRoutes } from './http/arc-routes.ts';
import { asyncApi } from './http/asyncapi.ts';
import { checkRoutes } from './http/check-routes.ts';
import { arcExportRoutes, exportRoutes } from './http/export-routes.ts';
import { feederRoutes } from './http/feeder-routes.ts';
import { couponRoutes, jobRoutes, setUpRoutes } from './http/job-routes.ts';
import { planRoutes } from './http/plan-routes.ts';
import { onError, ProblemError, sendProblem } from './http/problems.ts';
import { type Parts, sensorRoutes } from './http/routes.ts';
import { settingsRoutes } from './http/settings-routes.ts';
import { stockRoutes } from './http/stock-routes.ts';
import { supplyRoutes } from './http/supply-routes.ts';
import { waveRoutes } from './http/wave-routes.ts';
import { limits } from './limits.ts';
import { metrics } from './metrics.ts';
import { auditRoutes } from './people/audit-routes.ts';
import { peopleRoutes } from './people/people-routes.ts';
import { rightOf } from './people/rights.ts';
import { beginSession } from './people/sessions.ts';
import { signInRoutes } from './people/sign-in-routes.ts';
import { recordingRoutes } from './recordings/recording-routes.ts';

export interface AppOptions extends Parts {
  access: Access;
  version: string;
  /** For sessions and the waits after wrong PINs. */
  clock?: () => number;
  /** Folder of the built page. */
  webRoot: string;
  /** What a broker in this process turned away. */
  brokerRefused?: () => Record<string, number>;
}

/** Builds the HTTP side: API, live feed, page. It does not listen. */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const app = Fastify({
    logger: { level: 'error', stream: process.stderr },
    bodyLimit: limits.requestBytes,
    // Only a declared proxy's word on who asks is heard: for tries, the log and the audit list.
    trustProxy: options.access.proxies.isDeclared,
    requestTimeout: 30_000,
    connectionTimeout: 60_000,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 128 },
  });
  app.setValidatorCompiler(TypeBoxValidatorCompiler);
  app.setErrorHandler(onError);
  app.setNotFoundHandler((request, reply) =>
    sendProblem(reply, 'not-found', `${request.method} ${request.url.slice(0, 200)}`),
  );
  await app.register(helmet, headers);
  await app.register(cookie, {
    // Where people come over TLS, no cookie goes without; over plain HTTP it would not be kept.
    parseOptions: { secure: options.access.proxies.publicUrl?.protocol === 'https:' },
  });
  await app.register(rateLimit, { global: false });
  await app.register(swagger, {
    openapi: { openapi: '3.1.0', info: { title: 'Stiffline', version: options.version } },
  });
  await app.register(websocket, {
    // Frames are small and many; deflating each for every page costs more than it saves.
    options: { maxPayload: 1_024, perMessageDeflate: false },
    preClose: (done) => {
      options.floor.hub.stop();
      done();
    },
  });
  app.addHook('onRequest', async (request) => {
    options.access.checkHost(request);
    if (request.method !== 'GET' && request.method !== 'HEAD') options.access.checkOrigin(request);
  });
  await app.register((api) => apiRoutes(api, options), { prefix });
  await app.register((own) => ownRoutes(own, options));
  await page(app, options.webRoot);
  return app;
}

/** Only from here, nothing inline. Over plain HTTP there is nothing to upgrade to. */
const headers = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      workerSrc: ["'self'"],
      manifestSrc: ["'self'"],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
  hsts: false,
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
} as const;

const prefix = '/api/v1';

async function apiRoutes(api: FastifyInstance, options: AppOptions): Promise<void> {
  const { access, floor, store, clock = Date.now } = options;
  const slow = { max: 10, timeWindow: 60_000 };
  const body = Type.Object({ code: Type.String({ maxLength: 40 }) });
  api.post<{ Body: { code: string } }>(
    '/access',
    { schema: { body }, config: { rateLimit: slow } },
    (request, reply) => {
      access.checkCode(request.body.code);
      beginSession(store, reply, null, clock());
      return reply.code(204).send();
    },
  );
  await api.register(async (guarded) => {
    guarded.decorateRequest('who');
    guarded.addHook('onRequest', async (request) => {
      access.checkDoor(request, store.people);
      request.who = access.who(request, store.people);
      const route = request.routeOptions.url?.slice(prefix.length) ?? '';
      access.checkRole(request.who, rightOf(request.method, route));
    });
    guarded.get('/openapi.json', { schema: { hide: true } }, () => guarded.swagger());
    guarded.get('/asyncapi.json', { schema: { hide: true } }, () => asyncApi(options.version));
    await guarded.register(sensorRoutes(options));
    await guarded.register(supplyRoutes(options));
    await guarded.register(stockRoutes(options));
    await guarded.register(arcRoutes(options));
    await guarded.register(arcStreamRoutes(options));
    await guarded.register(waveRoutes(options));
    await guarded.register(exportRoutes(options));
    await guarded.register(arcExportRoutes(options));
    await guarded.register(checkRoutes(options));
    await guarded.register(recordingRoutes(options));
    await guarded.register(planRoutes(options));
    await guarded.register(feederRoutes(options));
    await guarded.register(signInRoutes(store, clock));
    await guarded.register(peopleRoutes(store));
    await guarded.register(auditRoutes(store));
    await guarded.register(settingsRoutes(store));
    await guarded.register(jobRoutes(options));
    await guarded.register(setUpRoutes(options));
    await guarded.register(couponRoutes(options));
    guarded.get(
      livePath.slice(prefix.length),
      {
        websocket: true,
        schema: { hide: true },
        // Before the upgrade: a page of another site gets no socket at all.
        preValidation: async (request) => access.checkOrigin(request),
      },
      (socket) => {
        socket.on('error', () => floor.hub.leave(socket));
        socket.on('close', () => floor.hub.leave(socket));
        floor.hub.enter(socket);
      },
    );
  });
}

async function ownRoutes(own: FastifyInstance, options: AppOptions): Promise<void> {
  const { access, ingest, store } = options;
  const registry = metrics(options, options.brokerRefused ?? (() => ({})));
  own.get('/healthz', { schema: { hide: true } }, () => ({ alive: true }));
  own.get('/readyz', { schema: { hide: true } }, (_request, reply) => {
    const reason = ingest.notReady;
    return reason === null
      ? reply.send({ ready: true })
      : reply.code(503).send({ ready: false, reason });
  });
  own.get('/metrics', { schema: { hide: true } }, async (request, reply) => {
    access.checkDoor(request, store.people);
    return reply.type(registry.contentType).send(await registry.metrics());
  });
}

async function page(app: FastifyInstance, webRoot: string): Promise<void> {
  if (!existsSync(join(webRoot, 'index.html'))) {
    app.get('/', { schema: { hide: true } }, () => {
      throw new ProblemError('not-found', 'the page is not built yet: npm run build');
    });
    return;
  }
  await app.register(files, {
    root: webRoot,
    // Names of assets carry their hash; the entry itself must be asked for anew.
    setHeaders: (reply, path) =>
      reply.header(
        'cache-control',
        path.includes(`${join(webRoot, 'assets')}`)
          ? 'public, max-age=31536000, immutable'
          : 'no-cache',
      ),
  });
}
