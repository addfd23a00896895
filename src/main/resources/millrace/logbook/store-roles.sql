-- Roles of a Millrace store, least privilege first. Once for each database, by a superuser of the server:
--
--   createdb --encoding=UTF8 --template=template0 millrace
--   millrace publish --roles | psql -v ON_ERROR_STOP=1 -d millrace
--
-- Then the keeper makes the tables, now and after each new Millrace that asks for it:
--
--   millrace publish --prepare --to 'jdbc:postgresql://HOST/millrace?user=NAME&sslmode=verify-full'
--
-- millrace_reader reads. millrace_bench reads and adds; it changes and deletes nothing, and makes no tables.
-- millrace_keeper owns the tables. Nobody logs in as one of these: each bench and person has a login that is in
-- one of them, with a password of its own in its password file (~/.pgpass), such as
--
--   CREATE ROLE bench_3 LOGIN CONNECTION LIMIT 4 IN ROLE millrace_bench;   \password bench_3
--   CREATE ROLE anna LOGIN IN ROLE millrace_reader;                        \password anna

DO $$
DECLARE
  each TEXT;
BEGIN
  FOREACH each IN ARRAY ARRAY['millrace_reader', 'millrace_bench', 'millrace_keeper'] LOOP
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = each) THEN
      EXECUTE format('CREATE ROLE %I NOLOGIN', each);
    END IF;
    EXECUTE format('GRANT CONNECT ON DATABASE %I TO %I', current_database(), each);
  END LOOP;
  EXECUTE format('REVOKE ALL ON DATABASE %I FROM PUBLIC', current_database());
END $$;
REVOKE CREATE ON SCHEMA public FROM PUBLIC;
CREATE SCHEMA IF NOT EXISTS millrace AUTHORIZATION millrace_keeper;
GRANT USAGE ON SCHEMA millrace TO millrace_reader, millrace_bench;
