-- The judge of a soak that goes on as it stood at one of its seconds, so that a start judges only
-- what came after. All of it follows from the soak's bins: a backup does without.
CREATE TABLE kept_judge (
  soak     text COLLATE "C" PRIMARY KEY REFERENCES soak (id)
           ON UPDATE CASCADE ON DELETE CASCADE,
  program  text NOT NULL,                         -- the only one that can read it
  second   bigint NOT NULL,                       -- its newest bin, s since 1970
  bins     bigint NOT NULL,                       -- how many it was given
  readings bigint NOT NULL,                       -- how many readings these held
  content  bytea NOT NULL                         -- compressed already
);
ALTER TABLE kept_judge ALTER COLUMN content SET STORAGE EXTERNAL;
