import { assert } from '../../shared/assert.ts';

/** Every bound of the server, with its reason. */
export const limits = {
  /** Binary frames carry 16 bits of slot; a big shop has some hundreds of outlets. */
  sensors: 4_096,
  /**
   * Messages of one sensor that may wait for an earlier one: 25 s of arc. A sensor keeps what was
   * not taken and sends it again, so dropping here loses time, never data.
   */
  reorder: 256,
  /** Bytes that wait for the next commit over all sensors; beyond it blocks are refused. */
  pendingBytes: 64 * 2 ** 20,
  /** From the first change to its commit: a disk syncs ten times a second without strain. */
  commitAfterMs: 50,
  /** After a commit that failed (disk full), the next try; each waits twice as long. */
  commitRetryMs: 1_000,
  /** Disk or card was made room on, or put back: half a minute later at the most it is used. */
  commitRetryMostMs: 30_000,
  /** Seconds of history that may wait for a store that takes nothing: an hour of six sensors. */
  pendingSeconds: 20_000,
  /** Records put aside, of all sensors and of one: a faulty one must not push out the others'. */
  quarantined: 1_000,
  quarantinedOfSensor: 100,
  /** Of one record: the longest payload, twice over; with the above 64 MB on disk. */
  quarantineBytes: 64 * 2 ** 10,
  /** Sensor, kind and fault that are counted apart; what comes beyond is counted as others'. */
  namedFaults: 2_000,
  /** A fault is said once in so long, with how often it came; and of all no more than this. */
  faultSaidMs: 60_000,
  faultLines: 20,
  faultLineLength: 300,
  /** Blocks before the settled point that a restart feeds to the watch to warm its estimates. */
  warmBlocks: 300,
  /** Half-cycle rows gathered before they go to the store as one chunk; two seconds at 60 Hz. */
  rowsChunk: 240,
  /** Rows wait so long for those of other sensors: a page draws sixty frames a second at most. */
  rowsAfterMs: 50,
  /** A page that is further behind than this gets no rows until it has caught up. */
  pageRowsBytes: 256 * 2 ** 10,
  /** A page that is this far behind cannot be told a verdict in time: it is cut, and comes anew. */
  pageCutBytes: 4 * 2 ** 20,
  pages: 256,
  /** Waveform kept, oldest given up first: about 55 h of arc time of one pair. */
  waveformBytes: 8 * 2 ** 30,
  /**
   * Half-cycle rows of arcs, one-second history, sags, other loads, and each arc's estimate of the
   * supply, in days. Arcs and verdicts stay for good, and so does each day's last estimate: a
   * terminal loosens over years.
   */
  historyDays: 92,
  sweepEveryMs: 10 * 60_000,
  /** Blocks taken away in one transaction, so that a sweep never holds the commits up. */
  sweepBlocks: 2_000,
  arcsPage: 200,
  sagsList: 5_000,
  otherLoadsList: 5_000,
  /** Estimates of a supply in one answer: more than a chart has pixels. */
  supplyPoints: 4_000,
  /** Looked back over for each pair's newest estimate: ten arcs of three pairs. */
  newestSupplies: 30,
  checksList: 200,
  jobsPage: 100,
  /** A vehicle has a handful of joints; a job that is seen whole must stay an answer of a page. */
  setUpsOfJob: 60,
  couponsOfSetUp: 60,
  /**
   * A recording that is brought: three minutes of CSV or nine of COMTRADE at 10 240/s, and a bead
   * takes seconds. It lies in memory whole: two at once are enough. `stiffline judge` takes more.
   */
  recordingBytes: 64 * 2 ** 20,
  recordingsAtOnce: 2,
  /** The meters' own bound: past it a window of a cycle would not fit their memory. */
  recordingHertz: 200_000,
  /** Arcs, and sags, in a recording's judgement. */
  recordingArcs: 500,
  /** Judging goes on for so long before the sensors' messages have their turn again. */
  recordingSliceMs: 4,
  /**
   * Machines times circuits of one plan: it is worked out between two messages of the sensors, and
   * this many keep them waiting for a tenth of a second. `stiffline plan` takes more.
   */
  planPairs: 600,
  planNeeds: 60,
  planBytes: 512 * 2 ** 10,
  historyPoints: 4_000,
  /** Bins of a waveform from afar: twice the pixels of a wide screen. */
  envelopeBins: 8_000,
  /** Samples of one waveform answer: five minutes at 10 240/s. */
  waveformFrames: 3_200_000,
  requestBytes: 64 * 2 ** 10,
  /** A shop with three shifts and ten years of leavers, who stay named. */
  people: 500,
  /** Devices let in and people signed in; beyond it the oldest shows the code or signs in anew. */
  sessions: 1_024,
  /** A phone that the shop knows shows the access code again after a quarter of a year. */
  doorDays: 90,
  /** A shift with overtime: who forgets to sign out is out before the next one begins. */
  signedInHours: 12,
  /**
   * Seconds until the next try after so many wrong PINs in a row; the last holds for any more. Two
   * slips cost nothing, and four digits last for weeks: 10,000 at four an hour.
   */
  pinWaitsS: [0, 0, 0, 10, 60, 300, 900],
  /** Entries of one page of the audit list; the list itself has no end. */
  auditPage: 200,
  /** Versions of one answer; all are kept. */
  versionsPage: 100,
  plates: 2_000,
  circuits: 2_000,
  /** Panels of the largest shop, and each read whole. */
  feeders: 200,
} as const;

assert(limits.quarantinedOfSensor < limits.quarantined, 'one sensor does not take all');
assert(limits.sensors <= 65_536, 'a slot fits sixteen bits');
assert(limits.pageRowsBytes < limits.pageCutBytes, 'rows are dropped before a page is');
