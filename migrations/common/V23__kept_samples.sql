-- When a soak was first stored, by the database's clock: what people bring in today was measured long
-- ago, and is kept as long as what is measured today. Of soaks of before it is not known (NULL).
ALTER TABLE soak ADD COLUMN stored timestamptz;
ALTER TABLE soak ALTER COLUMN stored SET DEFAULT now();

-- Since when a soak's samples are gone because they are kept for so many days only; NULL where they
-- are stored, or went otherwise.
ALTER TABLE soak ADD COLUMN samples_dropped timestamptz;

-- Stretches of dropped samples that are not all removed yet: it is done piece by piece.
CREATE TABLE sample_removal (
  tracker   text COLLATE "C" NOT NULL,
  from_time timestamptz NOT NULL,
  to_time   timestamptz NOT NULL,
  PRIMARY KEY (tracker, from_time)
);
