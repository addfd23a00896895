-- On each store, once, as its keeper: the last judging of every complete run, as one view. SITE is the name of this store.
SET search_path = millrace, pg_catalog;
CREATE VIEW judged AS
  SELECT CAST('SITE' AS TEXT) AS site, r.month, CAST(r.run_uuid AS TEXT) AS run_uuid, r.unit, r.batch, b.value AS bench, r.operator, r.tag,
         s.quantity, s."range", s.at, s.kind, s.value, s.expanded_uncertainty,
         s.limit_lower AS lower_limit, s.limit_upper AS upper_limit, s.conformity
    FROM run r
    JOIN evaluation e ON e.run_id = r.id
    JOIN result s ON s.month = r.month AND s.run_uuid = r.run_uuid AND s.evaluation_id = e.id
    LEFT JOIN fact b ON b.run_id = r.id AND b.name = 'bench'
   WHERE r.state = 'complete'
     AND NOT EXISTS (SELECT FROM evaluation later WHERE later.run_id = r.id AND later.id > e.id);
GRANT SELECT ON judged TO millrace_reader;
