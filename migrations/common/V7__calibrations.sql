-- Calibrations that each soak shows, with their checks, derived from its bins. The columns beside
-- them say of which state of the soak they are; those of another state are derived again.
CREATE TABLE kept_calibrations (
  soak       text COLLATE "C" PRIMARY KEY,
  end_time   timestamptz NOT NULL,
  samples    bigint NOT NULL,
  ended      boolean NOT NULL,
  rates      text NOT NULL,
  use_c      double precision NOT NULL,
  version    integer NOT NULL,
  changes    integer NOT NULL,
  heard      timestamptz NOT NULL,
  pending    boolean NOT NULL,
  derived_at timestamptz NOT NULL DEFAULT now(),
  marks      jsonb NOT NULL
);

-- What people said of calibrations. It is never derived, so it outlasts whatever is.
CREATE TABLE calibration_said (
  tracker text COLLATE "C" NOT NULL,
  at      timestamptz NOT NULL,
  was     boolean NOT NULL,
  PRIMARY KEY (tracker, at)
);
