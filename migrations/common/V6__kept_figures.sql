-- The figures of each soak, derived when it ends or changes. The columns beside them say of which
-- state of the soak they are; figures of another state are derived again.
CREATE TABLE kept_figures (
  soak       text COLLATE "C" PRIMARY KEY,
  end_time   timestamptz NOT NULL,
  samples    bigint NOT NULL,
  ended      boolean NOT NULL,
  rates      text NOT NULL,
  version    integer NOT NULL,
  derived_at timestamptz NOT NULL DEFAULT now(),
  figures    jsonb NOT NULL
);
