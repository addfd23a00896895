-- In a database of its own, for those who ask: one table whose partitions are the stores of two sites. Nothing is copied, and
-- nothing can be written. Put in where each store is, and a reader's name. Passwords: see CREATE USER MAPPING.
CREATE EXTENSION postgres_fdw;
CREATE SERVER north FOREIGN DATA WRAPPER postgres_fdw
  OPTIONS (host 'HOST', port 'NORTH_PORT', dbname 'NORTH_DATABASE', updatable 'false', fetch_size '10000', fdw_tuple_cost '1');
CREATE SERVER south FOREIGN DATA WRAPPER postgres_fdw
  OPTIONS (host 'HOST', port 'SOUTH_PORT', dbname 'SOUTH_DATABASE', updatable 'false', fetch_size '10000', fdw_tuple_cost '1');
CREATE USER MAPPING FOR CURRENT_USER SERVER north OPTIONS (user 'READER', password 'PASSWORD');
CREATE USER MAPPING FOR CURRENT_USER SERVER south OPTIONS (user 'READER', password 'PASSWORD');

CREATE TABLE judged (
  site TEXT NOT NULL, month DATE, run_uuid TEXT, unit TEXT, batch TEXT, bench TEXT, operator TEXT, tag TEXT,
  quantity TEXT, "range" TEXT, at TEXT, kind TEXT, value DOUBLE PRECISION, expanded_uncertainty DOUBLE PRECISION,
  lower_limit DOUBLE PRECISION, upper_limit DOUBLE PRECISION, conformity TEXT
) PARTITION BY LIST (site);
CREATE FOREIGN TABLE judged_north PARTITION OF judged FOR VALUES IN ('north')
  SERVER north OPTIONS (schema_name 'millrace', table_name 'judged');
CREATE FOREIGN TABLE judged_south PARTITION OF judged FOR VALUES IN ('south')
  SERVER south OPTIONS (schema_name 'millrace', table_name 'judged');
