-- What was made of a run: results by evaluation, and remarks that are only ever added.

-- basis: what the evaluation rests on (versions, hashes of files, remarks). Judgings are only ever
-- added; the last one counts.
CREATE TABLE evaluation (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  basis TEXT NOT NULL,
  made_at INTEGER NOT NULL,
  millrace TEXT NOT NULL,
  datasheet_file_id INTEGER REFERENCES file (id),
  reference_temperature_degC REAL,
  type_run TEXT,
  bin TEXT,
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX evaluation_run ON evaluation (run_id);

-- limit_when, covers and risk: JSON; what the limit is promised for, what the judgement rests on, and
-- the risks of a wrong decision.
-- kind: value; above or below (value is the bound); missing (with the reason). at and notes: JSON.
CREATE TABLE result (
  id INTEGER PRIMARY KEY,
  evaluation_id INTEGER NOT NULL REFERENCES evaluation (id),
  quantity TEXT NOT NULL,
  "range" TEXT,
  at TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('value', 'above', 'below', 'missing')),
  value REAL,
  missing TEXT,
  n INTEGER NOT NULL,
  standard_uncertainty REAL,
  expanded_uncertainty REAL,
  lower REAL,
  upper REAL,
  coverage REAL,
  coverage_factor REAL,
  degrees_of_freedom REAL,
  ppm_base TEXT,
  limit_lower REAL,
  limit_upper REAL,
  decision_rule TEXT,
  guard_factor REAL,
  conformity TEXT,
  tur REAL,
  probability_of_conformity REAL,
  limit_when TEXT,
  covers TEXT,
  risk TEXT,
  method TEXT NOT NULL,
  notes TEXT NOT NULL
) STRICT;
CREATE INDEX result_evaluation ON result (evaluation_id);

CREATE TABLE component (
  id INTEGER PRIMARY KEY,
  result_id INTEGER NOT NULL REFERENCES result (id),
  component TEXT NOT NULL,
  "group" TEXT NOT NULL,
  value REAL NOT NULL,
  unit TEXT NOT NULL,
  distribution TEXT NOT NULL,
  sensitivity REAL NOT NULL,
  contribution REAL NOT NULL,
  degrees_of_freedom REAL
) STRICT;
CREATE INDEX component_result ON component (result_id);

-- kind: remark; do not use (the point, or the whole run where point is null); use again;
-- repair (of the unit, after the run).
CREATE TABLE remark (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  point_number INTEGER,
  kind TEXT NOT NULL CHECK (kind IN ('remark', 'do not use', 'use again', 'repair')),
  text TEXT NOT NULL,
  author TEXT NOT NULL,
  written_at INTEGER NOT NULL
) STRICT;
CREATE INDEX remark_run ON remark (run_id);

CREATE TRIGGER remark_stays BEFORE UPDATE ON remark
BEGIN SELECT RAISE (ABORT, 'remarks are never changed'); END;
CREATE TRIGGER remark_remains BEFORE DELETE ON remark
BEGIN SELECT RAISE (ABORT, 'remarks are never deleted'); END;
