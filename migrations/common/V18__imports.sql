-- Recordings that people brought in from files: who, when, and whether all of it was taken out again.
CREATE TABLE import (
  id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  began   timestamptz NOT NULL DEFAULT now(),
  sender  text NOT NULL,                          -- what the sender says that it is
  address text NOT NULL,                          -- where it sent from
  undone  timestamptz,                            -- since when it is being, or is, taken out
  reason  text,                                   -- why
  taken   bigint NOT NULL DEFAULT 0               -- samples taken out so far
);

-- What became of each file.
CREATE TABLE import_file (
  import      bigint NOT NULL REFERENCES import,
  name        text NOT NULL,
  accepted    bigint NOT NULL DEFAULT 0,
  duplicate   bigint NOT NULL DEFAULT 0,
  conflicting bigint NOT NULL DEFAULT 0,
  rejected    bigint NOT NULL DEFAULT 0,          -- lines
  ended       timestamptz,                        -- when it was through; NULL until then
  problem     text,                               -- why it failed
  PRIMARY KEY (import, name)
);

-- Exactly which samples an import brought, by their times, some thousand in a row: what was there
-- before, or comes live, is not among them, so that it stays when an import is taken out.
CREATE TABLE import_part (
  part      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  import    bigint NOT NULL,
  tracker   text COLLATE "C" NOT NULL,
  from_time timestamptz NOT NULL,
  to_time   timestamptz NOT NULL,
  times     timestamptz[] NOT NULL
);
CREATE INDEX import_part_of ON import_part (import, tracker, from_time);
CREATE INDEX import_part_tracker ON import_part (tracker, from_time);

-- Roster entries that an import put in or changed: as they were (NULL: there was none) and as it left
-- them.
CREATE TABLE import_roster (
  import  bigint NOT NULL REFERENCES import,
  tracker text COLLATE "C" NOT NULL,
  before  jsonb,
  after   jsonb NOT NULL,
  PRIMARY KEY (import, tracker)
);

-- Trackers recorded under a wrong id, whose samples were given to another.
CREATE TABLE tracker_merge (
  id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  at       timestamptz NOT NULL DEFAULT now(),
  tracker  text COLLATE "C" NOT NULL,             -- the wrong id
  into_id  text COLLATE "C" NOT NULL,
  address  text NOT NULL,                         -- who asked for it
  reason   text NOT NULL,
  entry    jsonb,                                 -- the wrong id's roster entry, taken out; NULL for none
  samples  bigint NOT NULL DEFAULT 0,             -- moved
  aside    bigint NOT NULL DEFAULT 0,             -- of times at which the other has samples too: kept aside
  done     boolean NOT NULL DEFAULT false
);
