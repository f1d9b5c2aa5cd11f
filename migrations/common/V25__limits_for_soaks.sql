-- Whether limits were put for the soaks under way as well. Each of the services that write side by side
-- judges its own again: what it finds open and judged by others while this is the newest entry.
ALTER TABLE limits_history ADD COLUMN for_soaks boolean NOT NULL DEFAULT false;
