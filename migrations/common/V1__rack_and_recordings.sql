-- Everything Soakbench keeps. Times are timestamptz, which holds whole microseconds exactly.
-- A channel that was not measured is NULL, so that SQL's own averages leave it out.
-- Tracker ids sort by byte (COLLATE "C"): quicker, and the same order everywhere.

-- The roster: what people said about a tracker. A tracker may be heard without being listed here.
CREATE TABLE tracker (
  id                   text COLLATE "C" PRIMARY KEY,
  name                 text NOT NULL,
  lot                  text NOT NULL,
  imu                  text NOT NULL,
  board                text NOT NULL,
  rack                 text NOT NULL,
  slot                 text NOT NULL,
  power                text NOT NULL,             -- battery, usb, unknown
  rates                text NOT NULL,             -- raw, corrected, unknown
  temperature_offset_c double precision NOT NULL,
  note                 text NOT NULL
);

-- One reading of one tracker. Wide columns stand first so that no row carries padding; channels are
-- single precision, as they are judged. The key is the only index: each index costs writing speed.
CREATE TABLE sample (
  time             timestamptz NOT NULL,
  seq              bigint,                        -- the tracker's own line counter
  t_ms             bigint,                        -- milliseconds since its boot
  temperature_c    real,
  gx_dps           real,
  gy_dps           real,
  gz_dps           real,
  ax_g             real,
  ay_g             real,
  az_g             real,
  temperature_held boolean NOT NULL,              -- an earlier temperature carried forward
  tracker          text COLLATE "C" NOT NULL,
  PRIMARY KEY (tracker, time)
);

-- One second of one tracker, derived from its samples; double precision, as it is computed.
CREATE TABLE bin (
  time               timestamptz NOT NULL,        -- start of the second
  first_time         timestamptz NOT NULL,        -- its first and last sample
  last_time          timestamptz NOT NULL,
  temperature_mean_c double precision,
  temperature_sd_c   double precision,
  gx_mean_dps        double precision,
  gx_sd_dps          double precision,
  gy_mean_dps        double precision,
  gy_sd_dps          double precision,
  gz_mean_dps        double precision,
  gz_sd_dps          double precision,
  ax_mean_g          double precision,
  ax_sd_g            double precision,
  ay_mean_g          double precision,
  ay_sd_g            double precision,
  az_mean_g          double precision,
  az_sd_g            double precision,
  temperature_step_c double precision,
  gyro_step_dps      double precision,
  temperature_count  integer NOT NULL,
  gx_count           integer NOT NULL,
  gy_count           integer NOT NULL,
  gz_count           integer NOT NULL,
  ax_count           integer NOT NULL,
  ay_count           integer NOT NULL,
  az_count           integer NOT NULL,
  boot               integer NOT NULL,            -- reboots seen since the soak began
  tracker            text COLLATE "C" NOT NULL,
  PRIMARY KEY (tracker, time)
);

-- One continuous warm-up of one tracker.
CREATE TABLE soak (
  id         text COLLATE "C" PRIMARY KEY,
  tracker    text COLLATE "C" NOT NULL,
  start_time timestamptz NOT NULL,
  end_time   timestamptz NOT NULL,                -- newest sample
  samples    bigint NOT NULL,
  ended      text                                 -- why; NULL while it goes on
);
CREATE INDEX soak_by_tracker ON soak (tracker, start_time);
CREATE INDEX soak_by_start ON soak (start_time, id);

-- What state a soak was in from when on; "entry" keeps the order of writing within one instant.
CREATE TABLE timeline (
  soak    text COLLATE "C" NOT NULL,
  entry   bigint GENERATED ALWAYS AS IDENTITY,
  time    timestamptz NOT NULL,
  state   text NOT NULL,
  revised boolean NOT NULL,                       -- changed by a sample that came late
  PRIMARY KEY (soak, entry)
);

-- From which second (since 1970) on a tracker's derived rows wait to be derived again.
CREATE TABLE stale (
  tracker     text COLLATE "C" PRIMARY KEY,
  from_second bigint NOT NULL
);
