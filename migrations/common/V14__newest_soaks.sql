-- Which soak of a tracker is open, or else the newest: a service that only reads asks every second,
-- and must not sort all soaks that there ever were.
CREATE INDEX soak_newest ON soak (tracker, (ended IS NULL) DESC, start_time DESC, id DESC);
