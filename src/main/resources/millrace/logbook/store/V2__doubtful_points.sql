-- Points that are not complete are few, and counted for every run that is compared: without an index all
-- points of each run would be read for it. Months that are made later get it, too.
CREATE INDEX point_doubtful ON point (month, run_uuid) WHERE state <> 'complete';
