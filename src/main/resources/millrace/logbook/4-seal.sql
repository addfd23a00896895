-- What holds a run together: digests of its parts, and a chain that judgings and notes extend.

-- Which logbook this is, so that another one in its place is noticed.
CREATE TABLE logbook (
  number INTEGER PRIMARY KEY CHECK (number = 1),
  uuid TEXT NOT NULL
) STRICT;

-- What was changed of the plan of a run while it went on, why, and by whom. text: for people in its
-- first line, then the keys of the points that it is about.
CREATE TABLE plan_change (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  kind TEXT NOT NULL,
  text TEXT NOT NULL,
  reason TEXT NOT NULL,
  who TEXT NOT NULL,
  at INTEGER NOT NULL,
  elapsed INTEGER NOT NULL
) STRICT;
CREATE INDEX plan_change_run ON plan_change (run_id);

-- run.digest is the SHA-256 of these, which tell what does not fit where it does not.
CREATE TABLE digest_part (
  run_id INTEGER NOT NULL REFERENCES run (id),
  part TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  PRIMARY KEY (run_id, part)
) STRICT, WITHOUT ROWID;

-- The seal of a run after each thing that happened to it. nth: which row of its kind, from 1 in the
-- order of their numbers. content: SHA-256 of what is sealed. seal: SHA-256 of the seal before it
-- and this.
CREATE TABLE link (
  run_id INTEGER NOT NULL REFERENCES run (id),
  number INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('end', 'judging', 'note', 'plan change', 'signature')),
  nth INTEGER NOT NULL,
  content TEXT NOT NULL,
  seal TEXT NOT NULL,
  PRIMARY KEY (run_id, number)
) STRICT, WITHOUT ROWID;

-- sealed: the seal that was signed. signature: base64.
CREATE TABLE signature (
  id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL REFERENCES run (id),
  sealed TEXT NOT NULL,
  signature TEXT NOT NULL,
  signed_at INTEGER NOT NULL
) STRICT;
CREATE INDEX signature_run ON signature (run_id);

CREATE TRIGGER plan_change_stays BEFORE UPDATE ON plan_change
BEGIN SELECT RAISE (ABORT, 'changes of a plan are never changed'); END;
CREATE TRIGGER plan_change_remains BEFORE DELETE ON plan_change
BEGIN SELECT RAISE (ABORT, 'changes of a plan are never deleted'); END;
CREATE TRIGGER link_stays BEFORE UPDATE ON link
BEGIN SELECT RAISE (ABORT, 'seals are never changed'); END;
CREATE TRIGGER link_remains BEFORE DELETE ON link
BEGIN SELECT RAISE (ABORT, 'seals are never deleted'); END;
CREATE TRIGGER signature_stays BEFORE UPDATE ON signature
BEGIN SELECT RAISE (ABORT, 'signatures are never changed'); END;
CREATE TRIGGER signature_remains BEFORE DELETE ON signature
BEGIN SELECT RAISE (ABORT, 'signatures are never deleted'); END;
CREATE TRIGGER evaluation_stays BEFORE UPDATE ON evaluation
BEGIN SELECT RAISE (ABORT, 'judgings are never changed'); END;
CREATE TRIGGER evaluation_remains BEFORE DELETE ON evaluation
BEGIN SELECT RAISE (ABORT, 'judgings are never deleted'); END;
CREATE TRIGGER result_stays BEFORE UPDATE ON result
BEGIN SELECT RAISE (ABORT, 'results are never changed'); END;
CREATE TRIGGER result_remains BEFORE DELETE ON result
BEGIN SELECT RAISE (ABORT, 'results are never deleted'); END;
CREATE TRIGGER component_stays BEFORE UPDATE ON component
BEGIN SELECT RAISE (ABORT, 'budgets of results are never changed'); END;
CREATE TRIGGER component_remains BEFORE DELETE ON component
BEGIN SELECT RAISE (ABORT, 'budgets of results are never deleted'); END;
CREATE TRIGGER fact_stays BEFORE UPDATE ON fact
BEGIN SELECT RAISE (ABORT, 'facts of a run are never changed'); END;
CREATE TRIGGER fact_remains BEFORE DELETE ON fact
BEGIN SELECT RAISE (ABORT, 'facts of a run are never deleted'); END;
