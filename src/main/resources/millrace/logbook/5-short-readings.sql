-- Readings in half of the room. raw: the reply as received, or a whole number where value gives the
-- reply again to the byte, printed by a conversion of C: the precision plus 32 times the place of the
-- conversion in %f, %+f, %E, %+E, %e, %+e. clock: what the wall clock showed, less the start of the run
-- and elapsed (where that is unknown, less the start alone). reading_in_full has replies and times in full.

CREATE TABLE short_reading (
  point_id INTEGER NOT NULL REFERENCES point (id),
  number INTEGER NOT NULL,
  channel_id INTEGER NOT NULL REFERENCES channel (id),
  state INTEGER NOT NULL CHECK (state BETWEEN 0 AND 4),
  value REAL,
  zero REAL,
  raw ANY NOT NULL CHECK (raw BETWEEN 0 AND 191 OR typeof(raw) = 'text'),
  elapsed INTEGER,
  clock INTEGER,
  u REAL,
  u_common REAL,
  u_common_relative REAL,
  common_group_id INTEGER REFERENCES common_group (id),
  extra TEXT,
  PRIMARY KEY (point_id, number),
  CHECK ((value IS NOT NULL) = (state IN (0, 4)))
) STRICT, WITHOUT ROWID;

INSERT INTO short_reading (point_id, number, channel_id, state, value, zero, raw, elapsed, clock, u,
    u_common, u_common_relative, common_group_id, extra)
  SELECT r.point_id, r.number, r.channel_id, r.state, r.value, r.zero, r.raw, r.elapsed,
    r.taken_at - u.started_at - coalesce(r.elapsed, 0), r.u, r.u_common, r.u_common_relative,
    r.common_group_id, r.extra
  FROM reading r JOIN point p ON p.id = r.point_id JOIN run u ON u.id = p.run_id
  ORDER BY r.point_id, r.number;
DROP TABLE reading;
ALTER TABLE short_reading RENAME TO reading;

CREATE TRIGGER reading_stays BEFORE UPDATE ON reading
BEGIN SELECT RAISE (ABORT, 'readings are never changed'); END;
CREATE TRIGGER reading_remains BEFORE DELETE ON reading
BEGIN SELECT RAISE (ABORT, 'readings are never deleted'); END;

CREATE VIEW reading_in_full AS
  SELECT p.run_id, p.number AS point, r.number, c.signal, c.instrument, s.word AS state, r.value, r.zero,
    CASE typeof(r.raw) WHEN 'text' THEN r.raw ELSE printf('%' || substr('+', 1, r.raw / 32 % 2) || '.'
      || (r.raw % 32) || substr('fEe', r.raw / 64 + 1, 1), r.value) END AS raw,
    u.started_at + coalesce(r.elapsed, 0) + r.clock AS taken_at, r.elapsed, r.u, r.u_common,
    r.u_common_relative, g.name AS common_group, g.meter_range, r.extra
  FROM reading r JOIN point p ON p.id = r.point_id JOIN run u ON u.id = p.run_id
  JOIN channel c ON c.id = r.channel_id JOIN reading_state s ON s.id = r.state
  LEFT JOIN common_group g ON g.id = r.common_group_id;
