-- Rows of before the extension came are moved into chunks while the service runs: a hypertable beside
-- the plain table is filled piece by piece, what is written meanwhile goes into both, and at the end
-- the hypertable takes the table's name. Until then the plain table has every row, so nothing that
-- reads or writes needs to know.

-- How far that is. A row here, and a table NAME_chunks, are all there is of a move, so it goes on
-- where it was, whatever ended it.
CREATE TABLE chunk_move (
  name    text PRIMARY KEY,                       -- sample or bin
  tracker text COLLATE "C",                       -- the last row copied, in the order of the key;
  time    timestamptz,                            -- NULL before the first
  rows    bigint NOT NULL DEFAULT 0               -- copied so far
);

-- The hypertable never has a row that the plain table lacks: what is deleted or changed there goes
-- here, too, and the copying leaves out what is here already. The hypertable's name is the argument.
CREATE FUNCTION also_into_chunks() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'TRUNCATE' THEN
    EXECUTE format('TRUNCATE %I', TG_ARGV[0]);
  END IF;
  IF TG_OP IN ('DELETE', 'UPDATE') THEN
    EXECUTE format('DELETE FROM %I c USING gone g WHERE c.tracker = g.tracker AND c.time = g.time',
                   TG_ARGV[0]);
  END IF;
  IF TG_OP IN ('INSERT', 'UPDATE') THEN
    EXECUTE format('INSERT INTO %I SELECT * FROM came', TG_ARGV[0]);
  END IF;
  RETURN NULL;
END $$;
