import { OperatingError } from '../../../shared/command/outcome.ts';
import type { Database } from './database.ts';

/**
 * One entry a version, applied in order, each in its own transaction; an entry that has been
 * released never changes. Times are integer microseconds; blobs are little-endian.
 */
const migrations: readonly string[] = [
  `
  CREATE TABLE sensors (
    key INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, site TEXT NOT NULL, boot INTEGER NOT NULL,
    circuit INTEGER REFERENCES circuits, plate INTEGER REFERENCES plates,
    kept INTEGER NOT NULL DEFAULT 0,
    settled_boot INTEGER NOT NULL DEFAULT -1, settled_sample REAL NOT NULL DEFAULT 0
  ) STRICT;
  CREATE TABLE boots (
    sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL, about TEXT NOT NULL,
    PRIMARY KEY (sensor, boot)
  ) STRICT;
  CREATE TABLE circuits (id INTEGER PRIMARY KEY, circuit TEXT NOT NULL) STRICT;
  CREATE TABLE plates (id INTEGER PRIMARY KEY, plate TEXT NOT NULL) STRICT;
  CREATE TABLE blocks (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    seq INTEGER NOT NULL, first INTEGER NOT NULL, time INTEGER NOT NULL, n INTEGER NOT NULL,
    lost INTEGER NOT NULL, flags INTEGER NOT NULL, bits INTEGER NOT NULL, data BLOB NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX blocks_place ON blocks (sensor, boot, first);
  CREATE TABLE rows (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    first REAL NOT NULL, last REAL NOT NULL, n INTEGER NOT NULL, pairs INTEGER NOT NULL,
    stored_ms INTEGER NOT NULL, data BLOB NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX rows_place ON rows (sensor, boot, last);
  CREATE TABLE seconds (
    sensor INTEGER NOT NULL REFERENCES sensors, time_ms INTEGER NOT NULL, hertz REAL NOT NULL,
    v1lo REAL, v1hi REAL, i1lo REAL, i1hi REAL, v2lo REAL, v2hi REAL, i2lo REAL, i2hi REAL,
    v3lo REAL, v3hi REAL, i3lo REAL, i3hi REAL,
    PRIMARY KEY (sensor, time_ms)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE arcs (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    start REAL NOT NULL, "end" REAL NOT NULL, started_us INTEGER NOT NULL,
    ended_us INTEGER NOT NULL, verdict TEXT NOT NULL, detail TEXT NOT NULL,
    seen_by TEXT, seen_us INTEGER
  ) STRICT;
  CREATE UNIQUE INDEX arcs_place ON arcs (sensor, boot, start);
  CREATE INDEX arcs_time ON arcs (started_us, id);
  CREATE INDEX arcs_sensor ON arcs (sensor, started_us, id);
  CREATE INDEX arcs_flags ON arcs (sensor) WHERE verdict = 'underpowered' AND seen_by IS NULL;
  CREATE TABLE sags (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    start REAL NOT NULL, started_us INTEGER NOT NULL, sag TEXT NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX sags_place ON sags (sensor, boot, start);
  CREATE INDEX sags_time ON sags (sensor, started_us);
  `,
  `
  CREATE TABLE checks (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors,
    about TEXT NOT NULL, result TEXT
  ) STRICT;
  CREATE INDEX checks_judged ON checks (sensor, id) WHERE result IS NOT NULL;
  `,
  `
  CREATE TABLE people (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL, role TEXT NOT NULL, pin TEXT NOT NULL,
    disabled INTEGER NOT NULL DEFAULT 0, wrong INTEGER NOT NULL DEFAULT 0,
    locked_until_ms INTEGER NOT NULL DEFAULT 0
  ) STRICT;
  CREATE TABLE sessions (
    key INTEGER PRIMARY KEY, hash TEXT NOT NULL UNIQUE, person INTEGER REFERENCES people,
    ends_ms INTEGER NOT NULL
  ) STRICT;
  CREATE TABLE audit (
    id INTEGER PRIMARY KEY, at_us INTEGER NOT NULL, person INTEGER REFERENCES people, name TEXT,
    device TEXT, area TEXT NOT NULL, subject TEXT NOT NULL, says TEXT NOT NULL,
    before TEXT NOT NULL, after TEXT NOT NULL
  ) STRICT;
  CREATE INDEX audit_area ON audit (area, id);
  CREATE INDEX audit_person ON audit (person, id);
  CREATE TRIGGER audit_is_not_edited BEFORE UPDATE ON audit
    BEGIN SELECT raise(ABORT, 'the audit list is never edited'); END;
  CREATE TRIGGER audit_is_not_cut BEFORE DELETE ON audit
    BEGIN SELECT raise(ABORT, 'the audit list is never cut'); END;
  `,
  `
  CREATE TABLE supplies (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    sample REAL NOT NULL, at_us INTEGER NOT NULL, wiring TEXT NOT NULL, pair INTEGER NOT NULL,
    e REAL NOT NULL, r REAL NOT NULL, r_lo REAL NOT NULL, r_hi REAL NOT NULL,
    x REAL NOT NULL, x_lo REAL NOT NULL, x_hi REAL NOT NULL, steps INTEGER NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX supplies_place ON supplies (sensor, boot, sample, pair);
  CREATE INDEX supplies_time ON supplies (sensor, at_us);
  CREATE INDEX supplies_wiring ON supplies (sensor, wiring, at_us);
  CREATE TABLE other_loads (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, boot INTEGER NOT NULL,
    sample REAL NOT NULL, pair INTEGER NOT NULL, at_us INTEGER NOT NULL, event TEXT NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX other_loads_place ON other_loads (sensor, boot, sample, pair);
  CREATE INDEX other_loads_time ON other_loads (sensor, at_us);
  `,
  `
  ALTER TABLE circuits ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
  ALTER TABLE circuits ADD COLUMN changed_us INTEGER NOT NULL DEFAULT 0;
  ALTER TABLE circuits ADD COLUMN changed_by TEXT;
  ALTER TABLE circuits ADD COLUMN retired INTEGER NOT NULL DEFAULT 0;
  ALTER TABLE plates ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
  ALTER TABLE plates ADD COLUMN changed_us INTEGER NOT NULL DEFAULT 0;
  ALTER TABLE plates ADD COLUMN changed_by TEXT;
  ALTER TABLE plates ADD COLUMN retired INTEGER NOT NULL DEFAULT 0;
  UPDATE circuits SET changed_us = CAST(strftime('%s', 'now') AS INTEGER) * 1000000;
  UPDATE plates SET changed_us = CAST(strftime('%s', 'now') AS INTEGER) * 1000000;
  CREATE TABLE circuit_versions (
    id INTEGER NOT NULL REFERENCES circuits, version INTEGER NOT NULL, changed_us INTEGER NOT NULL,
    changed_by TEXT, circuit TEXT NOT NULL, PRIMARY KEY (id, version)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE plate_versions (
    id INTEGER NOT NULL REFERENCES plates, version INTEGER NOT NULL, changed_us INTEGER NOT NULL,
    changed_by TEXT, plate TEXT NOT NULL, PRIMARY KEY (id, version)
  ) STRICT, WITHOUT ROWID;
  INSERT INTO circuit_versions SELECT id, version, changed_us, changed_by, circuit FROM circuits;
  INSERT INTO plate_versions SELECT id, version, changed_us, changed_by, plate FROM plates;
  `,
  // The same weld as seen at both ends of a cord.
  `
  ALTER TABLE arcs ADD COLUMN circuit INTEGER;
  ALTER TABLE arcs ADD COLUMN at TEXT;
  ALTER TABLE arcs ADD COLUMN twin INTEGER;
  ALTER TABLE arcs ADD COLUMN counted_by INTEGER;
  CREATE INDEX arcs_circuit ON arcs (circuit, started_us) WHERE twin IS NULL;
  DROP INDEX arcs_flags;
  CREATE INDEX arcs_flags ON arcs (sensor)
    WHERE verdict = 'underpowered' AND seen_by IS NULL AND counted_by IS NULL;
  `,
  `
  CREATE TABLE jobs (id INTEGER PRIMARY KEY, open INTEGER NOT NULL, detail TEXT NOT NULL) STRICT;
  CREATE INDEX jobs_open ON jobs (open, id);
  CREATE TABLE set_ups (
    id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES jobs,
    sensor INTEGER NOT NULL REFERENCES sensors, begun TEXT NOT NULL, ended TEXT,
    detail TEXT NOT NULL
  ) STRICT;
  CREATE INDEX set_ups_job ON set_ups (job, id);
  CREATE INDEX set_ups_sensor ON set_ups (sensor, id);
  CREATE TABLE coupons (
    id INTEGER PRIMARY KEY, set_up INTEGER NOT NULL REFERENCES set_ups, detail TEXT NOT NULL
  ) STRICT;
  CREATE INDEX coupons_set_up ON coupons (set_up, id);
  ALTER TABLE arcs ADD COLUMN job INTEGER REFERENCES jobs;
  ALTER TABLE arcs ADD COLUMN set_up INTEGER REFERENCES set_ups;
  CREATE INDEX arcs_job ON arcs (job, started_us, id) WHERE job IS NOT NULL;
  CREATE INDEX arcs_set_up ON arcs (set_up, started_us, id) WHERE set_up IS NOT NULL;
  `,
  `
  CREATE TABLE feeders (id INTEGER PRIMARY KEY AUTOINCREMENT, feeder TEXT NOT NULL) STRICT;
  `,
  // A check may be of a recording, with no sensor; one under way outlives a restart.
  `
  CREATE TABLE checks_anew (
    id INTEGER PRIMARY KEY, sensor INTEGER REFERENCES sensors,
    about TEXT NOT NULL, result TEXT, running TEXT
  ) STRICT;
  INSERT INTO checks_anew SELECT id, sensor, about, result, NULL FROM checks;
  DROP TABLE checks;
  ALTER TABLE checks_anew RENAME TO checks;
  CREATE INDEX checks_judged ON checks (sensor, id) WHERE result IS NOT NULL;
  CREATE INDEX checks_running ON checks (id) WHERE running IS NOT NULL;
  `,
  `
  CREATE TABLE shop_settings (id INTEGER PRIMARY KEY CHECK (id = 1), settings TEXT NOT NULL) STRICT;
  `,
  `
  ALTER TABLE feeders ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
  ALTER TABLE feeders ADD COLUMN changed_us INTEGER NOT NULL DEFAULT 0;
  ALTER TABLE feeders ADD COLUMN changed_by TEXT;
  ALTER TABLE feeders ADD COLUMN retired INTEGER NOT NULL DEFAULT 0;
  UPDATE feeders SET changed_us = CAST(strftime('%s', 'now') AS INTEGER) * 1000000;
  CREATE TABLE feeder_versions (
    id INTEGER NOT NULL REFERENCES feeders, version INTEGER NOT NULL, changed_us INTEGER NOT NULL,
    changed_by TEXT, feeder TEXT NOT NULL, PRIMARY KEY (id, version)
  ) STRICT, WITHOUT ROWID;
  INSERT INTO feeder_versions SELECT id, version, changed_us, changed_by, feeder FROM feeders;
  `,
  `
  ALTER TABLE audit ADD COLUMN saying TEXT;
  `,
  `
  DROP INDEX arcs_flags;
  CREATE INDEX arcs_flags ON arcs (sensor)
    WHERE verdict IN ('underpowered', 'unsuited') AND seen_by IS NULL AND counted_by IS NULL;
  `,
  // Records that were put aside so that the rest could be stored.
  `
  CREATE TABLE quarantine (
    id INTEGER PRIMARY KEY, sensor INTEGER NOT NULL REFERENCES sensors, kind TEXT NOT NULL,
    boot INTEGER, seq INTEGER, at_us INTEGER NOT NULL, reason TEXT NOT NULL, bytes BLOB NOT NULL
  ) STRICT;
  CREATE INDEX quarantine_sensor ON quarantine (sensor, id);
  `,
];

/**
 * Prepares a file. `synchronous = FULL`: `keep` tells a sensor that it may forget, so a commit must
 * outlive a cut of the mains, which NORMAL does not promise in WAL mode. Pages of 64 kB doubled the
 * speed of 8 kB blobs. A test goes only so far, to be an older program.
 * @throws OperatingError when a newer program has written the file.
 */
export function migrate(database: Database, path: string, to = migrations.length): void {
  database.exec(`
    PRAGMA page_size = 65536; PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;
    PRAGMA foreign_keys = ON; PRAGMA busy_timeout = 2000; PRAGMA cache_size = -65536;
    PRAGMA journal_size_limit = 67108864; PRAGMA temp_store = MEMORY;
    CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL) STRICT;
  `);
  const at = database.prepare('SELECT max(version) AS version FROM schema_version').get();
  const version = Number(at?.version ?? 0);
  if (version > migrations.length)
    throw new OperatingError(
      `${path}: schema ${version} is of a newer version; this one knows ${migrations.length}`,
    );
  for (let next = version; next < to; next++)
    database.exec(
      `BEGIN; ${migrations[next]} INSERT INTO schema_version VALUES (${next + 1}); COMMIT;`,
    );
}
