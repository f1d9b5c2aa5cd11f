-- What a soak is judged by, written when it begins, so that it is never judged by two sets of
-- limits. Soaks of before this table get the limits in force at the next start.
CREATE TABLE soak_terms (
  soak         text COLLATE "C" PRIMARY KEY,
  limits       jsonb NOT NULL,                    -- each limit under its name
  tau_median_s double precision,                  -- what earlier soaks told of the time constant:
  tau_factor   double precision,                  -- a log-normal belief; NULL where nothing was
  tau_soaks    integer                            -- known
);

-- Which limits held from when on for soaks that began; "entry" keeps the order of writing.
CREATE TABLE limits_history (
  entry  bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  since  timestamptz NOT NULL,
  origin text NOT NULL,                           -- defaults, file, http
  limits jsonb NOT NULL
);
