-- Soaks that people left out of the figures, each with the reason. What people say is never derived,
-- so it outlasts whatever is; it is kept by a moment of the soak, since late samples may give a soak
-- another id.
CREATE TABLE soak_left_out (
  tracker text COLLATE "C" NOT NULL,
  at      timestamptz NOT NULL,
  reason  text NOT NULL,
  PRIMARY KEY (tracker, at)
);
