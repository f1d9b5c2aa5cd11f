-- What is kept of a soak for those after it: plateau, time constants, recorded coolings. Derived when
-- the soak ends, when a cooling in it was recorded, and when late samples change it. Soaks of before
-- this table have none.
CREATE TABLE soak_figures (
  soak    text COLLATE "C" PRIMARY KEY,
  figures jsonb NOT NULL
);
