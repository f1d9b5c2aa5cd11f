-- The last second with samples that came late, beside the first; of marks of before it is not known.
ALTER TABLE stale ADD COLUMN to_second bigint NOT NULL DEFAULT 253402300799;

-- Whether all samples of a soak are still stored. Once some are gone, what was derived of it stays as
-- it is.
ALTER TABLE soak ADD COLUMN samples_kept boolean NOT NULL DEFAULT true;
