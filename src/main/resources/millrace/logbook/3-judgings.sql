-- What a run was judged by instead of the bench file that it was made from: other bench files in the
-- order of coming, each whole or (where instrument is not null) for one instrument alone.

CREATE TABLE evaluation_bench (
  evaluation_id INTEGER NOT NULL REFERENCES evaluation (id),
  number INTEGER NOT NULL,
  file_id INTEGER NOT NULL REFERENCES file (id),
  instrument TEXT,
  PRIMARY KEY (evaluation_id, number)
) STRICT, WITHOUT ROWID;
