import { type Static, Type } from 'typebox';
import { Circuit } from './circuit.ts';
import { Plate } from './plate.ts';
import { DropSplit } from './split.ts';

/**
 * What the HTTP API says and takes, all under `/api/v1`. One schema serves the check at the door,
 * the OpenAPI document and the page's types (which imports them with `import type` alone). Times
 * are RFC 3339 UTC; volts and amperes true r.m.s.; `null` where unknown.
 *
 *   GET  /sensors                      Sensor[]
 *   GET  /sensors/:id                  Sensor
 *   PUT  /sensors/:id/assignment       Assignment → Sensor
 *   GET  /sensors/:id/history          ?from&to&points → History
 *   GET  /sensors/:id/sags             ?from&to → SagList
 *   GET  /sensors/:id/supply           ?from&to → SupplyHistory (http-supply.ts)
 *   GET  /sensors/:id/other-loads      ?from&to → OtherLoadList (http-supply.ts)
 *   GET  /circuits   POST /circuits    StoredCircuit[]; Circuit → StoredCircuit
 *   PUT  /circuits/:id                 ?version, edited from; Circuit → StoredCircuit, or 409
 *   GET  /circuits/:id/versions        ?before&limit → CircuitVersions
 *   PUT  /circuits/:id/retirement      Retirement → StoredCircuit
 *   GET  /plates     POST /plates      StoredPlate[]; Plate → StoredPlate
 *   …    /plates/…, /feeders/…         the same of plates, and of feeders (http-plan.ts)
 *   GET  /feeders/loads                FeederLoad[]: what hangs on each now
 *   GET  /arcs                         ?sensor&verdict&limit&before → ArcPage
 *   GET  /arcs/:id                     ArcDetail
 *   GET  /arcs/:id/rows                RowColumns, from half a second before to half one after
 *   GET  /arcs/:id/waveform            ?fromS&toS&points → binary, `decodeWaveform` of
 *                                      live-rows.ts; over two samples a point `decodeEnvelope`
 *                                      of wave-envelope.ts
 *   GET  /arcs/:id/spectrum            ?atS → ArcSpectrum (http-spectrum.ts)
 *   PUT  /arcs/:id/acknowledgement     {by}, or who is signed in → ArcSummary
 *   GET  /arcs.csv                     ?sensor&verdict → CSV of all arcs, newest first
 *   GET  /sensors/:id/history.csv      ?from&to&stepS → CSV
 *   GET  /arcs/:id/rows.csv            CSV
 *   GET  /arcs/:id/waveform.csv        the recorded stream that `stiffline judge` reads
 *   GET  /arcs/:id/recording.cff       the same as COMTRADE
 *   GET  /arcs/:id/plate.json          Plate; circuit.json: Circuit, for `judge`
 *   GET  /sensors/:id/remedies         ?awg&feet or ?mm2&metres → Remedies (http-plan.ts)
 *   POST /plan                         PlanRequest → Plan (http-plan.ts)
 *   GET  /plan/circuits                PlannedCircuit[]: the shop's own, with what was measured
 *   POST /checks                       NewCheck → Check (http-check.ts)
 *   GET  /checks                       ?sensor → KeptCheck[], newest first
 *   GET  /checks/:id                   Check
 *   POST /checks/:id/choice            {choice} → Check
 *   POST /recordings                  a form → JudgedRecording (http-recording.ts)
 *   …    /jobs, /set-ups, /coupons     job sheets (http-jobs.ts)
 *   POST /access                       {code} → a session, for another device
 *   GET  /live                         WebSocket, live.ts
 *
 * Errors are `application/problem+json`: `Problem`.
 */
export const nullable = <T extends Parameters<typeof Type.Union>[0][number]>(schema: T) =>
  Type.Union([schema, Type.Null()]);
export const Time = Type.String({ format: 'date-time', description: 'RFC 3339, UTC' });
export const Id = Type.Integer({ minimum: 1, maximum: Number.MAX_SAFE_INTEGER });
export const FigureOrNull = nullable(Type.Number());
export const Pair = Type.Tuple([Type.Number(), Type.Number()]);
export const PairOrNull = nullable(Pair);

export const VerdictSchema = Type.Union([
  Type.Literal('adequate'),
  Type.Literal('marginal'),
  Type.Literal('unproven'),
  Type.Literal('underpowered'),
  Type.Literal('unsuited'),
]);

const phrase = {
  name: Type.String(),
  figures: Type.Record(Type.String(), Type.Unknown()),
};
/** `Saying` of judgement.ts: sentences by name, for a page of another language. */
export const SayingSchema = Type.Object({
  ...phrase,
  followedBy: Type.Optional(Type.Array(Type.Object(phrase))),
});

/** `Finding` of judgement.ts; tests hold the two to one another. */
export const FindingSchema = Type.Object({
  rule: Type.String(),
  verdict: VerdictSchema,
  measured: FigureOrNull,
  limit: FigureOrNull,
  unit: Type.String(),
  margin: FigureOrNull,
  interval: PairOrNull,
  source: Type.String(),
  says: Type.String(),
  saying: Type.Optional(SayingSchema),
  electrician: nullable(Type.String()),
  electricianSaying: Type.Optional(SayingSchema),
  atS: PairOrNull,
  required: Type.Boolean(),
});

/** `ArcChannel` of judgement.ts. */
export const ArcChannelSchema = Type.Object({
  idleVolts: FigureOrNull,
  idleAmps: Type.Optional(FigureOrNull),
  meanVolts: Type.Number(),
  minVolts200ms: Type.Number(),
  maxVolts200ms: Type.Optional(Type.Number()),
  minVoltsHalfCycle: Type.Number(),
  meanAmps: Type.Number(),
  maxAmps200ms: Type.Number(),
  meanWatts: Type.Number(),
  powerFactor: FigureOrNull,
  thdVoltsPercent: FigureOrNull,
  thdAmpsPercent: FigureOrNull,
});

export const PlaceSchema = Type.Enum(['machine', 'outlet', 'unstated']);

/** `Arc` of judgement.ts; its times count from the sensor's first sample since it started. */
export const ArcSchema = Type.Object({
  startS: Type.Number(),
  endS: Type.Number(),
  durationS: Type.Number(),
  channels: Type.Array(ArcChannelSchema),
  between: Type.Optional(Type.Array(ArcChannelSchema)),
  loops: Type.Optional(Type.Array(Type.Integer({ minimum: 0, maximum: 5 }))),
  lostFraction: Type.Number(),
  /** Where its voltages are told of: at the sensor where nobody said where that is. */
  place: Type.Optional(PlaceSchema),
  verdict: VerdictSchema,
  findings: Type.Array(FindingSchema),
});

/** Which of all that were kept it is, since when, and who made it (null: nobody was signed in). */
const versioned = {
  version: Type.Integer({ minimum: 1 }),
  changedAt: Time,
  changedBy: nullable(Type.String()),
};
export const stored = {
  id: Id,
  ...versioned,
  /** Not offered where one is chosen; kept, since old arcs and checks speak of it. */
  retired: Type.Boolean(),
};
export const StoredCircuit = Type.Object({ ...stored, circuit: Circuit });
export type StoredCircuit = Static<typeof StoredCircuit>;
export const StoredPlate = Type.Object({ ...stored, plate: Plate });
export type StoredPlate = Static<typeof StoredPlate>;

/** Newest first; `next` is where the following page begins, null on the last one. */
export const versionsOf = <Shape extends Parameters<typeof Type.Object>[0]>(shape: Shape) =>
  Type.Object({
    versions: Type.Array(Type.Object({ ...versioned, ...shape })),
    next: nullable(Type.Integer()),
  });
export const CircuitVersions = versionsOf({ circuit: Circuit });
export type CircuitVersions = Static<typeof CircuitVersions>;
export const PlateVersions = versionsOf({ plate: Plate });
export type PlateVersions = Static<typeof PlateVersions>;

export const Retirement = Type.Object({ retired: Type.Boolean() }, { additionalProperties: false });

/** Name of the person who has seen an underpowered arc; the flag stays up until then. */
export const Acknowledgement = Type.Object({
  by: Type.String({ minLength: 1, maxLength: 80 }),
  at: Time,
});

/** Which job, set-up and coupon an arc belongs to; `ArcWeld` of jobs.ts. */
export const ArcWeldSchema = Type.Object({
  job: Id,
  jobNumber: Type.String(),
  setUp: Id,
  coupon: nullable(Id),
  on: Type.Enum(['coupon', 'vehicle', 'untested']),
});

/** Power that the arc took, and what the coupon's band makes of it; null where none was held. */
export const Heat = Type.Object({
  watts: Type.Number(),
  word: nullable(Type.Enum(['colder', 'inside', 'hotter'])),
});
export type Heat = Static<typeof Heat>;

/** `Terminals` of service.ts. */
export const TerminalsSchema = Type.Object({
  loops: Type.Array(Type.Integer({ minimum: 0, maximum: 5 })),
  volts: Type.Array(Type.Number()),
});

/** One line of the list of arcs: enough for a card, with the finding that decided. */
export const ArcSummary = Type.Object({
  id: Id,
  sensor: Type.String(),
  startedAt: Time,
  endedAt: Time,
  durationS: Type.Number(),
  verdict: VerdictSchema,
  /** The worst required finding's plain sentence. */
  says: Type.String(),
  saying: Type.Optional(SayingSchema),
  /** Between the machine's terminals; of arcs stored before that was measured, the worst pair's. */
  minVolts200ms: Type.Number(),
  /** Of the line that carries most. */
  meanAmps: Type.Number(),
  /** Where the machine hangs on several pairs; left out of one pair, and where it was not seen. */
  terminals: Type.Optional(TerminalsSchema),
  circuitName: nullable(Type.String()),
  plateName: nullable(Type.String()),
  acknowledged: nullable(Acknowledgement),
  /** The same weld as the sensor at the other end of the cord saw it. */
  twin: nullable(Id),
  /** The twin at the machine's end whose verdict counts: this arc raises no flag of its own. */
  countedBy: nullable(Id),
  /** Left out where no job was set up. */
  weld: Type.Optional(ArcWeldSchema),
  heat: Type.Optional(Heat),
});
export type ArcSummary = Static<typeof ArcSummary>;

/** One arc with everything that was judged, and the plate and circuit as they stood then. */
export const ArcDetail = Type.Object({
  summary: ArcSummary,
  arc: ArcSchema,
  plate: nullable(Plate),
  circuit: nullable(Circuit),
  /** Their versions, as the lists of versions number them; null where none is known. */
  plateVersion: nullable(Type.Integer()),
  circuitVersion: nullable(Type.Integer()),
  rateHz: Type.Number(),
  pairs: Type.Integer(),
  /** False once the waveform has been given up to make room for newer ones. */
  waveform: Type.Boolean(),
  /** The sensor's end of the cord, where it is known. */
  at: nullable(Type.Union([Type.Literal('outlet'), Type.Literal('machine')])),
  twin: nullable(ArcSummary),
  /** Of the weld that both ends saw, what the building took and what the cord took. */
  split: nullable(DropSplit),
});
export type ArcDetail = Static<typeof ArcDetail>;

/** Newest first; `next` is the cursor of the following page, null on the last one. */
export const ArcPage = Type.Object({
  arcs: Type.Array(ArcSummary),
  next: nullable(Type.String()),
});
export type ArcPage = Static<typeof ArcPage>;

/**
 * Half-cycle rows in columns. `timeS` counts from the arc's start (or from `from`), ascending.
 * A hole in the record is one entry whose values are all null, as a chart wants it.
 */
export const RowColumns = Type.Object({
  timeS: Type.Array(Type.Number()),
  hertz: Type.Array(FigureOrNull),
  /** One column a voltage–current pair. */
  volts: Type.Array(Type.Array(FigureOrNull)),
  amps: Type.Array(Type.Array(FigureOrNull)),
  watts: Type.Array(Type.Array(FigureOrNull)),
});
export type RowColumns = Static<typeof RowColumns>;

/**
 * History of one sensor between two moments, decimated to at most `points` buckets of which each
 * keeps its lowest and highest value, so that a one-half-cycle dip shows at any zoom.
 */
export const History = Type.Object({
  from: Time,
  to: Time,
  bucketS: Type.Number(),
  /** Middle of each bucket, seconds after `from`. */
  timeS: Type.Array(Type.Number()),
  voltsMin: Type.Array(Type.Array(FigureOrNull)),
  voltsMax: Type.Array(Type.Array(FigureOrNull)),
  ampsMin: Type.Array(Type.Array(FigureOrNull)),
  ampsMax: Type.Array(Type.Array(FigureOrNull)),
});
export type History = Static<typeof History>;

/** A sag of the voltage; `Sag` of judgement.ts with its time. */
export const SagSchema = Type.Object({
  at: Time,
  startS: Type.Number(),
  durationS: Type.Number(),
  residualVolts: Type.Number(),
  depthPercent: Type.Number(),
  category: nullable(Type.String()),
  channel: Type.Integer(),
  between: Type.Optional(Type.Tuple([Type.Integer(), Type.Integer()])),
});
/** In order of time; `more` where the list was cut. */
export const SagList = Type.Object({ sags: Type.Array(SagSchema), more: Type.Boolean() });
export type SagList = Static<typeof SagList>;

/** What hangs on a sensor: the circuit it watches and the machine plugged in. */
export const Assignment = Type.Object(
  { circuit: nullable(Id), plate: nullable(Id) },
  { additionalProperties: false },
);
export type Assignment = Static<typeof Assignment>;

/** The last half cycle that the sensor told of. One entry a pair. */
export const Reading = Type.Object({
  at: Time,
  hertz: Type.Number(),
  volts: Type.Array(Type.Number()),
  amps: Type.Array(Type.Number()),
  watts: Type.Array(Type.Number()),
});
export type Reading = Static<typeof Reading>;

/** An arc that burns now, judged so far; the figures of `Arc`, provisional. */
export const OpenArc = Type.Object({
  startedAt: Time,
  /** Null until the first provisional judgement, about 200 ms in. */
  arc: nullable(ArcSchema),
});
export type OpenArc = Static<typeof OpenArc>;

export const SensorState = Type.Union([
  Type.Literal('online'),
  Type.Literal('arc'),
  /** It said good-bye. */
  Type.Literal('offline'),
  /** The broker told its last will: power or link went away. */
  Type.Literal('lost'),
]);
export type SensorState = Static<typeof SensorState>;

/** What is to be done now at a set-up: `vehicle` once a coupon passed, `stale` when none holds. */
export const SetUpStage = Type.Enum([
  ...(['no-coupon', 'welding', 'testing', 'vehicle', 'stale', 'ended'] as const),
]);
export type SetUpStage = Static<typeof SetUpStage>;

/** The set-up that is under way at a sensor. */
export const SetUpHere = Type.Object({
  job: Id,
  jobNumber: Type.String(),
  setUp: Id,
  stage: SetUpStage,
});
export type SetUpHere = Static<typeof SetUpHere>;

/** What speaks against the machine on this supply before any weld: class of voltage, phases. */
export const Mismatch = Type.Object({
  /** `unsuited`: it must not be plugged in here; `underpowered`: as 208 V under a 240 V plate. */
  verdict: VerdictSchema,
  says: Type.String(),
  saying: Type.Optional(SayingSchema),
});
export type Mismatch = Static<typeof Mismatch>;

/** Everything the floor shows of one sensor. */
export const Sensor = Type.Object({
  /** `<site>.<sensor>`: the two words of its topic. */
  id: Type.String(),
  /** Number that binary frames carry in its place; good for one start of the server. */
  slot: Type.Integer({ minimum: 0, maximum: 65535 }),
  name: Type.String(),
  site: Type.String(),
  /** As the sensor says itself, else as its circuit is described; `unstated`: neither. */
  at: Type.Union([Type.Literal('outlet'), Type.Literal('machine'), Type.Literal('unstated')]),
  firmware: Type.String(),
  rateHz: Type.Number(),
  pairs: Type.Integer(),
  state: SensorState,
  stateSince: Time,
  /** When the server last heard anything from it; null: not since the server started. */
  heardAt: nullable(Time),
  /** Counters the sensor keeps of its own faults, as it names them. */
  health: Type.Record(Type.String(), Type.Number()),
  circuit: nullable(StoredCircuit),
  plate: nullable(StoredPlate),
  reading: nullable(Reading),
  openArc: nullable(OpenArc),
  lastArc: nullable(ArcSummary),
  /** Underpowered arcs that nobody has acknowledged yet. */
  flags: Type.Integer(),
  /** Arc-on share of the last ten minutes, 0 … 1. */
  duty: FigureOrNull,
  /** Left out where nothing is set up. */
  setUp: Type.Optional(SetUpHere),
  /** Left out where machine and supply go together, as far as that is known before a weld. */
  mismatch: Type.Optional(Mismatch),
});
export type Sensor = Static<typeof Sensor>;

/** RFC 9457 problem. `code` is one of the server's catalogue. */
export const Problem = Type.Object({
  type: Type.String(),
  title: Type.String(),
  status: Type.Integer(),
  detail: Type.String(),
  code: Type.String(),
});
export type Problem = Static<typeof Problem>;
