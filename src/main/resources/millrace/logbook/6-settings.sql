-- How instruments were set at a point is the same at many: each set of words is kept once.

CREATE TABLE settings (
  id INTEGER PRIMARY KEY,
  words TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO settings (words) SELECT DISTINCT settings FROM point ORDER BY 1;

DROP TRIGGER point_is_final;
ALTER TABLE point ADD COLUMN settings_id INTEGER REFERENCES settings (id);
UPDATE point SET settings_id = (SELECT s.id FROM settings s WHERE s.words = point.settings);
ALTER TABLE point DROP COLUMN settings;

CREATE TRIGGER point_is_final BEFORE UPDATE ON point WHEN old.state <> 'open'
BEGIN SELECT RAISE (ABORT, 'a point that was closed is never changed'); END;
CREATE TRIGGER settings_stay BEFORE UPDATE ON settings
BEGIN SELECT RAISE (ABORT, 'settings of points are never changed'); END;
CREATE TRIGGER settings_remain BEFORE DELETE ON settings
BEGIN SELECT RAISE (ABORT, 'settings of points are never deleted'); END;
