-- Boards that no bench measured, for trials of scale in a store that holds nothing else: each is a copy of the one run of
-- batch 'template', with two results drawn from a model, the same wherever this is run. Variables of psql are not used: the words
-- FIRST, LAST and OF_BENCH are replaced before. Board i: bench i mod 8, batch (i/8) mod 10, month (i/80) mod 12.
CREATE FUNCTION pg_temp.normal(seed TEXT) RETURNS DOUBLE PRECISION LANGUAGE sql IMMUTABLE AS $$
  SELECT sqrt(-2 * ln((('x' || substr(md5(seed), 1, 8))::BIT(32)::BIGINT & 4294967295 | 1) / 4294967296.0::DOUBLE PRECISION))
    * cos(2 * pi() * (('x' || substr(md5(seed), 9, 8))::BIT(32)::BIGINT & 4294967295) / 4294967296.0::DOUBLE PRECISION)
$$;

CREATE TEMP TABLE board AS
  SELECT i, i % 8 AS bench, i / 8 % 10 AS batch, CAST(md5('board ' || i) AS UUID) AS run_uuid,
         1735689600000000000 + CAST(i / 80 % 12 AS BIGINT) * 2629746000000000 + CAST(i AS BIGINT) * 1000000000 AS started_at
    FROM generate_series(FIRST, LAST) AS i WHERE i % 8 IN (OF_BENCH);

SELECT open_month(CAST(month AS DATE)) FROM generate_series(TIMESTAMP '2025-01-01', TIMESTAMP '2026-02-01', INTERVAL '1 month') AS month;

INSERT INTO run (uuid, unit, origin, title, batch, tag, millrace, started_at, utc_offset_s, state, ended_at, remark, digest)
  SELECT b.run_uuid, 'FX3-' || lpad(i::TEXT, 6, '0'), t.origin, 'boards of a model', 'lot ' || b.batch, 'scale', t.millrace,
         b.started_at, 0, 'complete', b.started_at + 60000000000, '', t.digest
    FROM board b, run t WHERE t.batch = 'template' ORDER BY i;

INSERT INTO fact (run_id, name, value)
  SELECT r.id, 'bench', 'bench ' || b.bench FROM board b JOIN run r USING (run_uuid)
  UNION ALL SELECT r.id, 'dated', 'yes' FROM board b JOIN run r USING (run_uuid);

INSERT INTO evaluation (run_id, basis, made_at, millrace, datasheet_file_id, reference_temperature_degC, type_run, bin, reason)
  SELECT r.id, e.basis, e.made_at, e.millrace, e.datasheet_file_id, e.reference_temperature_degC, e.type_run, e.bin, e.reason
    FROM board b JOIN run r USING (run_uuid), run t JOIN evaluation e ON e.run_id = t.id
   WHERE t.batch = 'template' ORDER BY b.i;

CREATE TEMP TABLE drawn AS
  SELECT r.month, r.run_uuid, e.id AS evaluation_id, p.*,
         CASE p.quantity
           WHEN 'current_error' THEN 10 + 15 * pg_temp.normal('b' || b.bench) + 10 * pg_temp.normal('l' || b.batch) + 55 * pg_temp.normal('u' || b.i)
           ELSE 0.1 + 0.1 * pg_temp.normal('B' || b.bench) + 0.05 * pg_temp.normal('L' || b.batch) + 0.3 * pg_temp.normal('U' || b.i)
         END AS drawn
    FROM board b JOIN run r USING (run_uuid) JOIN evaluation e ON e.run_id = r.id,
         (SELECT s.quantity, s."range", s.at, s.ppm_base, s.limit_lower, s.limit_upper, s.decision_rule, s.guard_factor,
                 s.limit_when, s.covers, s.risk, s.method, s.notes
            FROM run t JOIN evaluation v ON v.run_id = t.id JOIN result s ON s.evaluation_id = v.id
           WHERE t.batch = 'template' AND s."range" = '1mA' AND s.limit_lower IS NOT NULL
             AND s.quantity IN ('current_error', 'load_regulation')) AS p
   ORDER BY b.i;

INSERT INTO result (month, run_uuid, evaluation_id, quantity, "range", at, kind, value, n, standard_uncertainty, expanded_uncertainty,
                    lower, upper, coverage, coverage_factor, ppm_base, limit_lower, limit_upper, decision_rule, guard_factor,
                    conformity, limit_when, covers, risk, method, notes)
  SELECT month, run_uuid, evaluation_id, quantity, "range", at, 'value', drawn, 5, abs(limit_upper) / 40, abs(limit_upper) / 20,
         drawn - abs(limit_upper) / 20, drawn + abs(limit_upper) / 20, 0.9545, 2, ppm_base, limit_lower, limit_upper,
         decision_rule, guard_factor, CASE WHEN drawn BETWEEN limit_lower AND limit_upper THEN 'pass' ELSE 'fail' END,
         limit_when, covers, risk, method, notes FROM drawn;
ANALYZE run; ANALYZE evaluation; ANALYZE result; ANALYZE fact;
