-- Tables belong to the role of keepers, where there is one that this user is in.
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_catalog.pg_roles WHERE rolname = 'millrace_keeper'
      AND pg_has_role(oid, 'MEMBER')) THEN
    SET ROLE millrace_keeper;
  END IF;
END $$;
