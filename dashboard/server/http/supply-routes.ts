import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Problem, type Sensor } from '../../../shared/protocol/http.ts';
import {
  OtherLoadList,
  SupplyHistory,
  type SupplyPoint,
  type SupplyTrendSchema,
} from '../../../shared/protocol/http-supply.ts';
import { firstWeeksS, supplyTrend, type TrendPoint } from '../../../shared/rules/supply-trend.ts';
import { limits } from '../limits.ts';
import { rfc3339 } from '../live/floor.ts';
import type { NewSupply, Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';
import { between, type Parts, sensorPath, span } from './routes.ts';

/** What arcs showed of a sensor's supply over time, and what else switched on it. */
export const supplyRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function supplies(app) {
    const known = (id: string): Sensor => {
      const sensor = floor.sensor(id);
      if (!sensor) throw new ProblemError('not-found', `there is no sensor "${id}"`);
      return sensor;
    };
    const asked = { params: sensorPath, querystring: span, tags: ['floor'] };
    app.get(
      '/sensors/:sensor/supply',
      { schema: { ...asked, response: { 200: SupplyHistory, 404: Problem } } },
      ({ params, query }) => {
        const { id } = known(params.sensor);
        const [fromUs, toUs] = between(query).map((ms) => ms * 1_000) as [number, number];
        const bucketUs = Math.max(1, Math.ceil((toUs - fromUs) / limits.supplyPoints));
        const found = store.supplies({ sensor: id, fromUs, toUs, bucketUs });
        const [from, to] = [rfc3339(fromUs), rfc3339(toUs)];
        return { from, to, points: found.map(point), trends: trendsOf(store, id) };
      },
    );
    app.get(
      '/sensors/:sensor/other-loads',
      { schema: { ...asked, response: { 200: OtherLoadList, 404: Problem } } },
      ({ params, query }) => {
        const { id } = known(params.sensor);
        const [fromUs, toUs] = between(query).map((ms) => ms * 1_000) as [number, number];
        const most = limits.otherLoadsList;
        const found = store.otherLoads({ sensor: id, fromUs, toUs, limit: most + 1 });
        const events = found.map(({ event, atUs }) => ({ ...event, at: rfc3339(atUs) }));
        return { events: events.slice(0, most), more: found.length > most };
      },
    );
  };

const point = ({ atUs, pair, supply }: NewSupply): SupplyPoint => ({
  at: rfc3339(atUs),
  pair,
  ...supply,
});

/** Each pair's newest estimate against the first weeks of the wiring that it saw. */
function trendsOf(store: Store, sensor: string): SupplyTrendSchema[] {
  // Some arcs leave a pair out; what all of the newest few leave out is not known now.
  const newest = store.newestSupplies(sensor, limits.newestSupplies);
  const wiring = newest[0]?.wiring;
  if (wiring === undefined) return [];
  const spanUs = firstWeeksS * 1e6;
  const first = store.firstSupplies({ sensor, wiring, spanUs, limit: limits.supplyPoints });
  return [1, 2, 3].flatMap((pair) => {
    const now = newest.find((one) => one.pair === pair && one.wiring === wiring);
    if (!now) return [];
    const own = first.filter((one) => one.pair === pair).map(trendPoint);
    const trend = supplyTrend(own, trendPoint(now));
    return {
      pair,
      kind: trend.kind,
      before: trend.before && told(trend.before),
      now: told(trend.now),
    };
  });
}

const trendPoint = ({ atUs, supply: { ohmsR, ohmsR95 } }: NewSupply): TrendPoint => ({
  atS: atUs / 1e6,
  ohmsR,
  ohmsR95,
});

const told = ({ atS, ohmsR, ohmsR95: [low, high] }: TrendPoint) => ({
  at: rfc3339(atS * 1e6),
  ohmsR,
  ohmsR95: [low, high] as [number, number],
});
