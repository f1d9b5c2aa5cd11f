-- All that is derived of soaks from stored bins, a row for each soak and kind: what is kept of it for
-- later soaks ("summary"), its figures, its calibrations with their checks. "basis" says of which state
-- of the soak, and of what else it rests on, a row is; one of another basis or version is derived
-- again. "heard" is what had been heard by then, and "waits" whether more of it may change the row
-- while the basis stays.
CREATE TABLE derived (
  kind       text COLLATE "C" NOT NULL,           -- summary, figures, calibrations
  soak       text COLLATE "C" NOT NULL,
  version    integer NOT NULL,                    -- of the program that derived it
  basis      jsonb NOT NULL,
  heard      text NOT NULL,
  waits      boolean NOT NULL,
  derived_at timestamptz NOT NULL DEFAULT now(),
  content    jsonb NOT NULL,
  PRIMARY KEY (kind, soak)
);

INSERT INTO derived (kind, soak, version, basis, heard, waits, content)
SELECT 'summary', k.soak, k.version, '{}', '', false, k.figures
FROM soak_figures k JOIN soak s ON s.id = k.soak;

INSERT INTO derived
SELECT 'figures', k.soak, k.version,
       jsonb_build_object(
         'rates', k.rates,
         'ended', CASE WHEN k.ended THEN concat_ws(' ', extract(epoch FROM k.end_time), k.samples) END,
         'before', k.before_state),
       concat_ws(' ', extract(epoch FROM k.end_time), k.samples), NOT k.ended, k.derived_at, k.figures
FROM kept_figures k JOIN soak s ON s.id = k.soak;

INSERT INTO derived
SELECT 'calibrations', k.soak, k.version,
       jsonb_build_object(
         'rates', k.rates,
         'ended', CASE WHEN k.ended THEN concat_ws(' ', extract(epoch FROM k.end_time), k.samples) END,
         'before', k.before_state,
         'use_c', CASE jsonb_typeof(t.limits->'use_temperature_c') WHEN 'number' THEN k.use_c END,
         'said', k.said,
         'changes', CASE WHEN NOT k.ended THEN k.changes END),
       extract(epoch FROM k.heard)::text, k.pending, k.derived_at, k.marks
FROM kept_calibrations k JOIN soak s ON s.id = k.soak LEFT JOIN soak_terms t ON t.soak = k.soak;

DROP TABLE soak_figures, kept_figures, kept_calibrations;
