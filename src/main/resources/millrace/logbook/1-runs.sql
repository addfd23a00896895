-- What was done and read. Times: *_at in nanoseconds since 1970-01-01T00:00:00Z; started, ended and
-- elapsed in nanoseconds of the run's own monotonic time. Numbers in the unit that their name ends in.

CREATE TABLE setup (
  id INTEGER PRIMARY KEY,
  fixture TEXT NOT NULL,
  cables TEXT NOT NULL,
  remark TEXT NOT NULL,
  UNIQUE (fixture, cables, remark)
) STRICT;

CREATE TABLE run (
  id INTEGER PRIMARY KEY,
  uuid TEXT NOT NULL UNIQUE,
  unit TEXT NOT NULL,
  origin TEXT NOT NULL CHECK (origin IN ('bench', 'simulated', 'imported')),
  title TEXT NOT NULL,
  operator TEXT,
  batch TEXT,
  tag TEXT,
  seed INTEGER,
  virtual_time INTEGER CHECK (virtual_time IN (0, 1)),
  millrace TEXT NOT NULL,
  started_at INTEGER NOT NULL,
  utc_offset_s INTEGER NOT NULL,
  setup_id INTEGER REFERENCES setup (id),
  state TEXT NOT NULL CHECK (state IN ('unfinished', 'complete', 'stopped', 'failed')),
  ended_at INTEGER,
  remark TEXT NOT NULL DEFAULT '',
  digest TEXT,
  held_by TEXT
) STRICT;
CREATE INDEX run_unit ON run (unit);

-- Whatever else is worth keeping of a run, by name.
CREATE TABLE fact (
  run_id INTEGER NOT NULL REFERENCES run (id),
  name TEXT NOT NULL,
  value TEXT NOT NULL,
  PRIMARY KEY (run_id, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE file (
  id INTEGER PRIMARY KEY,
  sha256 TEXT NOT NULL UNIQUE,
  bytes INTEGER NOT NULL
) STRICT;

-- content: a piece of the file, compressed (RFC 1950); bytes and sha256 are those of the file itself.
CREATE TABLE file_piece (
  file_id INTEGER NOT NULL REFERENCES file (id),
  number INTEGER NOT NULL,
  content BLOB NOT NULL,
  PRIMARY KEY (file_id, number)
) STRICT;

CREATE TABLE run_file (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  file_id INTEGER NOT NULL REFERENCES file (id),
  role TEXT NOT NULL,
  name TEXT NOT NULL
) STRICT;
CREATE INDEX run_file_run ON run_file (run_id);

CREATE TABLE instrument (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  name TEXT NOT NULL,
  roles TEXT NOT NULL,
  driver TEXT NOT NULL,
  address TEXT NOT NULL,
  identity TEXT NOT NULL,
  serial TEXT,
  laboratory TEXT,
  certificate TEXT,
  calibrated_on TEXT,
  due_on TEXT,
  since_at INTEGER NOT NULL
) STRICT;
CREATE INDEX instrument_run ON instrument (run_id);
CREATE INDEX instrument_serial ON instrument (serial);

-- Written ahead: a step without an end was interrupted.
CREATE TABLE step (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  key TEXT NOT NULL,
  what TEXT NOT NULL,
  started INTEGER NOT NULL,
  ended INTEGER,
  outcome TEXT
) STRICT;
CREATE INDEX step_run ON step (run_id);

CREATE TABLE point (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  number INTEGER NOT NULL,
  place INTEGER NOT NULL,
  part INTEGER NOT NULL,
  key TEXT NOT NULL,
  kind TEXT NOT NULL,
  "range" TEXT,
  nominal_A REAL,
  temperature_degC REAL,
  load_ohm REAL,
  terminal_voltage_V REAL,
  supply_V REAL,
  set_A REAL,
  direction TEXT CHECK (direction IN ('up', 'down')),
  slot TEXT,
  visit INTEGER NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('open', 'complete', 'flagged', 'skipped')),
  reason TEXT NOT NULL,
  started INTEGER NOT NULL,
  ended INTEGER NOT NULL,
  settings TEXT NOT NULL,
  UNIQUE (run_id, number),
  UNIQUE (run_id, place, part)
) STRICT;

CREATE TABLE channel (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  signal TEXT NOT NULL,
  instrument TEXT NOT NULL,
  UNIQUE (run_id, signal, instrument)
) STRICT;

-- What imported readings share: the group of their common error, and the meter range.
CREATE TABLE common_group (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  name TEXT NOT NULL,
  meter_range TEXT,
  UNIQUE (run_id, name, meter_range)
) STRICT;

-- The words behind reading.state.
CREATE TABLE reading_state (
  id INTEGER PRIMARY KEY,
  word TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO reading_state (id, word) VALUES
  (0, 'number'), (1, 'overload'), (2, 'not a number'), (3, 'malformed'), (4, 'suspect');

-- value, zero and the stated standard uncertainties u, u_common: in the base unit of the signal;
-- u_common_relative: a ratio. They are stated with imported readings only. extra: a JSON object of
-- what else stood in the row.
CREATE TABLE reading (
  point_id INTEGER NOT NULL REFERENCES point (id),
  number INTEGER NOT NULL,
  channel_id INTEGER NOT NULL REFERENCES channel (id),
  state INTEGER NOT NULL CHECK (state BETWEEN 0 AND 4),
  value REAL,
  zero REAL,
  raw TEXT NOT NULL,
  taken_at INTEGER,
  elapsed INTEGER,
  u REAL,
  u_common REAL,
  u_common_relative REAL,
  common_group_id INTEGER REFERENCES common_group (id),
  extra TEXT,
  PRIMARY KEY (point_id, number),
  CHECK ((value IS NOT NULL) = (state IN (0, 4)))
) STRICT, WITHOUT ROWID;

CREATE TABLE incident (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  kind TEXT NOT NULL,
  point_key TEXT,
  text TEXT NOT NULL,
  at INTEGER NOT NULL,
  elapsed INTEGER NOT NULL
) STRICT;
CREATE INDEX incident_run ON incident (run_id);

CREATE TRIGGER reading_stays BEFORE UPDATE ON reading
BEGIN SELECT RAISE (ABORT, 'readings are never changed'); END;
CREATE TRIGGER reading_remains BEFORE DELETE ON reading
BEGIN SELECT RAISE (ABORT, 'readings are never deleted'); END;
CREATE TRIGGER incident_stays BEFORE UPDATE ON incident
BEGIN SELECT RAISE (ABORT, 'incidents are never changed'); END;
CREATE TRIGGER incident_remains BEFORE DELETE ON incident
BEGIN SELECT RAISE (ABORT, 'incidents are never deleted'); END;
CREATE TRIGGER file_stays BEFORE UPDATE ON file
BEGIN SELECT RAISE (ABORT, 'files are never changed'); END;
CREATE TRIGGER file_remains BEFORE DELETE ON file
BEGIN SELECT RAISE (ABORT, 'files are never deleted'); END;
CREATE TRIGGER file_piece_stays BEFORE UPDATE ON file_piece
BEGIN SELECT RAISE (ABORT, 'files are never changed'); END;
CREATE TRIGGER file_piece_remains BEFORE DELETE ON file_piece
BEGIN SELECT RAISE (ABORT, 'files are never deleted'); END;
CREATE TRIGGER run_file_stays BEFORE UPDATE ON run_file
BEGIN SELECT RAISE (ABORT, 'what a run was made from is never changed'); END;
CREATE TRIGGER run_file_remains BEFORE DELETE ON run_file
BEGIN SELECT RAISE (ABORT, 'what a run was made from is never deleted'); END;
CREATE TRIGGER instrument_stays BEFORE UPDATE ON instrument
BEGIN SELECT RAISE (ABORT, 'instruments of a run are never changed'); END;
CREATE TRIGGER instrument_remains BEFORE DELETE ON instrument
BEGIN SELECT RAISE (ABORT, 'instruments of a run are never deleted'); END;
CREATE TRIGGER channel_stays BEFORE UPDATE ON channel
BEGIN SELECT RAISE (ABORT, 'what a reading came from is never changed'); END;
CREATE TRIGGER channel_remains BEFORE DELETE ON channel
BEGIN SELECT RAISE (ABORT, 'what a reading came from is never deleted'); END;
CREATE TRIGGER common_group_stays BEFORE UPDATE ON common_group
BEGIN SELECT RAISE (ABORT, 'groups of readings are never changed'); END;
CREATE TRIGGER point_remains BEFORE DELETE ON point
BEGIN SELECT RAISE (ABORT, 'points are never deleted'); END;
CREATE TRIGGER point_is_final BEFORE UPDATE ON point WHEN old.state <> 'open'
BEGIN SELECT RAISE (ABORT, 'a point that was closed is never changed'); END;
CREATE TRIGGER point_keeps_its_conditions BEFORE UPDATE OF
  id, run_id, number, key, kind, "range", nominal_A, temperature_degC, load_ohm,
  terminal_voltage_V, supply_V, set_A, direction, slot, visit, started ON point
BEGIN SELECT RAISE (ABORT, 'the conditions of a point are never changed'); END;
CREATE TRIGGER run_remains BEFORE DELETE ON run
BEGIN SELECT RAISE (ABORT, 'runs are never deleted'); END;
CREATE TRIGGER run_keeps_its_identity BEFORE UPDATE OF
  id, uuid, unit, origin, title, seed, virtual_time, millrace, started_at, utc_offset_s ON run
BEGIN SELECT RAISE (ABORT, 'the identity of a run is never changed'); END;
CREATE TRIGGER step_is_ended_once BEFORE UPDATE ON step WHEN old.ended IS NOT NULL
BEGIN SELECT RAISE (ABORT, 'a step that was ended is never changed'); END;
