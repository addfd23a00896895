-- What benches and readers may, where the keeper has made their roles; after each migration, for its new tables.
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'millrace_reader') THEN
    GRANT USAGE ON SCHEMA "${flyway:defaultSchema}" TO millrace_reader;
    GRANT SELECT ON ALL TABLES IN SCHEMA "${flyway:defaultSchema}" TO millrace_reader;
  END IF;
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'millrace_bench') THEN
    GRANT USAGE ON SCHEMA "${flyway:defaultSchema}" TO millrace_bench;
    GRANT SELECT, INSERT ON ALL TABLES IN SCHEMA "${flyway:defaultSchema}" TO millrace_bench;
    REVOKE INSERT ON reading_state, flyway_schema_history FROM millrace_bench;
    GRANT USAGE ON ALL SEQUENCES IN SCHEMA "${flyway:defaultSchema}" TO millrace_bench;
    GRANT EXECUTE ON FUNCTION open_month(DATE) TO millrace_bench;
  END IF;
END $$;
