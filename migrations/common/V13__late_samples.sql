-- The last second with samples that came late, beside the first; of marks of before it is not known.
ALTER TABLE stale ADD COLUMN to_second bigint NOT NULL DEFAULT 253402300799;

-- Whether all samples of a soak are still stored. Once some are gone, what was derived of it stays as
-- it is.
ALTER TABLE soak ADD COLUMN samples_kept boolean NOT NULL DEFAULT true;

-- Samples that a clock had stamped before it was set back, from the second on in which the soak of
-- its new time begins. They belong to no soak; one that is sent again is known by them.
CREATE TABLE sample_aside (LIKE sample, PRIMARY KEY (tracker, time));
