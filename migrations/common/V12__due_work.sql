-- What figures and calibrations depend on beside their own soak: the soak before it, and what people
-- said. Rows of before are compared as if there had been none of either.
ALTER TABLE kept_figures ADD COLUMN before_state text;
ALTER TABLE kept_calibrations ADD COLUMN before_state text, ADD COLUMN said text;

-- Which version of the program derived a row.
ALTER TABLE soak_figures ADD COLUMN version integer NOT NULL DEFAULT 1;
