-- What results and budgets say in words is the same at many, and so are the limits that go with it: it is
-- kept once, and a result has the number of its words. result_in_full and component_in_full have everything
-- by the name of its column. once: a number that words are found by, see ResultWords.

CREATE TABLE result_words (
  id INTEGER PRIMARY KEY,
  once INTEGER,
  quantity TEXT NOT NULL,
  "range" TEXT,
  at TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('value', 'above', 'below', 'missing')),
  missing TEXT,
  coverage REAL,
  ppm_base TEXT,
  limit_lower REAL,
  limit_upper REAL,
  decision_rule TEXT,
  guard_factor REAL,
  conformity TEXT,
  limit_when TEXT,
  covers TEXT,
  method TEXT NOT NULL,
  notes TEXT NOT NULL
) STRICT;

CREATE TABLE short_result (
  id INTEGER PRIMARY KEY,
  evaluation_id INTEGER NOT NULL REFERENCES evaluation (id),
  words_id INTEGER NOT NULL REFERENCES result_words (id),
  n INTEGER NOT NULL,
  value REAL,
  standard_uncertainty REAL,
  expanded_uncertainty REAL,
  lower REAL,
  upper REAL,
  coverage_factor REAL,
  degrees_of_freedom REAL,
  tur REAL,
  probability_of_conformity REAL,
  risk TEXT
) STRICT;

CREATE TABLE component_words (
  id INTEGER PRIMARY KEY,
  component TEXT NOT NULL,
  "group" TEXT NOT NULL,
  unit TEXT NOT NULL,
  distribution TEXT NOT NULL,
  UNIQUE (component, "group", unit, distribution)
) STRICT;

-- number: from 1 in the order of the budget.
CREATE TABLE short_component (
  result_id INTEGER NOT NULL REFERENCES short_result (id),
  number INTEGER NOT NULL,
  words_id INTEGER NOT NULL REFERENCES component_words (id),
  value REAL NOT NULL,
  sensitivity REAL NOT NULL,
  contribution REAL NOT NULL,
  degrees_of_freedom REAL,
  PRIMARY KEY (result_id, number)
) STRICT, WITHOUT ROWID;

CREATE TEMP TABLE numbered AS
  SELECT id, dense_rank() OVER (ORDER BY quantity, "range", at, kind, missing, coverage, ppm_base, limit_lower,
    limit_upper, decision_rule, guard_factor, conformity, limit_when, covers, method, notes) AS words
  FROM result;
INSERT INTO result_words (id, quantity, "range", at, kind, missing, coverage, ppm_base, limit_lower,
    limit_upper, decision_rule, guard_factor, conformity, limit_when, covers, method, notes)
  SELECT n.words, r.quantity, r."range", r.at, r.kind, r.missing, r.coverage, r.ppm_base, r.limit_lower,
    r.limit_upper, r.decision_rule, r.guard_factor, r.conformity, r.limit_when, r.covers, r.method, r.notes
  FROM (SELECT words, min(id) AS id FROM temp.numbered GROUP BY words) n JOIN result r ON r.id = n.id
  ORDER BY n.words;
INSERT INTO short_result (id, evaluation_id, words_id, n, value, standard_uncertainty, expanded_uncertainty,
    lower, upper, coverage_factor, degrees_of_freedom, tur, probability_of_conformity, risk)
  SELECT r.id, r.evaluation_id, n.words, r.n, r.value, r.standard_uncertainty, r.expanded_uncertainty,
    r.lower, r.upper, r.coverage_factor, r.degrees_of_freedom, r.tur, r.probability_of_conformity, r.risk
  FROM temp.numbered n JOIN result r ON r.id = n.id ORDER BY r.id;
DROP TABLE temp.numbered;
INSERT INTO component_words (component, "group", unit, distribution)
  SELECT DISTINCT component, "group", unit, distribution FROM component ORDER BY 1, 2, 3, 4;
INSERT INTO short_component (result_id, number, words_id, value, sensitivity, contribution, degrees_of_freedom)
  SELECT c.result_id, row_number() OVER (PARTITION BY c.result_id ORDER BY c.id), w.id, c.value, c.sensitivity,
    c.contribution, c.degrees_of_freedom
  FROM component c JOIN component_words w ON w.component = c.component AND w."group" = c."group"
    AND w.unit = c.unit AND w.distribution = c.distribution
  ORDER BY c.result_id, c.id;
DROP TABLE component;
DROP TABLE result;
ALTER TABLE short_result RENAME TO result;
ALTER TABLE short_component RENAME TO component;
CREATE INDEX result_evaluation ON result (evaluation_id);
CREATE INDEX result_words_once ON result_words (once);

CREATE VIEW result_in_full AS
  SELECT r.id, r.evaluation_id, w.quantity, w."range", w.at, w.kind, r.value, w.missing, r.n,
    r.standard_uncertainty, r.expanded_uncertainty, r.lower, r.upper, w.coverage, r.coverage_factor,
    r.degrees_of_freedom, w.ppm_base, w.limit_lower, w.limit_upper, w.decision_rule, w.guard_factor,
    w.conformity, r.tur, r.probability_of_conformity, w.limit_when, w.covers, r.risk, w.method, w.notes
  FROM result r JOIN result_words w ON w.id = r.words_id;
CREATE VIEW component_in_full AS
  SELECT c.result_id, c.number, w.component, w."group", c.value, w.unit, w.distribution, c.sensitivity,
    c.contribution, c.degrees_of_freedom
  FROM component c JOIN component_words w ON w.id = c.words_id;

CREATE TRIGGER result_stays BEFORE UPDATE ON result
BEGIN SELECT RAISE (ABORT, 'results are never changed'); END;
CREATE TRIGGER result_remains BEFORE DELETE ON result
BEGIN SELECT RAISE (ABORT, 'results are never deleted'); END;
CREATE TRIGGER result_words_stay BEFORE UPDATE ON result_words WHEN old.once IS NOT NULL
BEGIN SELECT RAISE (ABORT, 'words of results are never changed'); END;
CREATE TRIGGER result_words_remain BEFORE DELETE ON result_words
BEGIN SELECT RAISE (ABORT, 'words of results are never deleted'); END;
CREATE TRIGGER component_stays BEFORE UPDATE ON component
BEGIN SELECT RAISE (ABORT, 'budgets of results are never changed'); END;
CREATE TRIGGER component_remains BEFORE DELETE ON component
BEGIN SELECT RAISE (ABORT, 'budgets of results are never deleted'); END;
CREATE TRIGGER component_words_stay BEFORE UPDATE ON component_words
BEGIN SELECT RAISE (ABORT, 'words of budgets are never changed'); END;
CREATE TRIGGER component_words_remain BEFORE DELETE ON component_words
BEGIN SELECT RAISE (ABORT, 'words of budgets are never deleted'); END;
