-- How often a tracker was moved from one rack to another. Services that write for different racks compare it in
-- each transaction, so that one stops writing for a tracker before another begins.
CREATE TABLE roster_moves (
  only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
  moves    bigint NOT NULL
);
INSERT INTO roster_moves (moves) VALUES (0);

-- Whoever moves a tracker waits for the transactions that write samples, which hold the lock shared to their end.
CREATE FUNCTION note_roster_move() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_advisory_xact_lock(x'50ab'::int, 4);
  UPDATE roster_moves SET moves = moves + 1;
  RETURN NULL;
END
$$;

CREATE TRIGGER tracker_placed AFTER INSERT ON tracker
  FOR EACH ROW WHEN (NEW.rack <> '') EXECUTE FUNCTION note_roster_move();
CREATE TRIGGER tracker_moved AFTER UPDATE OF rack ON tracker
  FOR EACH ROW WHEN (OLD.rack <> NEW.rack) EXECUTE FUNCTION note_roster_move();
CREATE TRIGGER tracker_removed AFTER DELETE ON tracker
  FOR EACH ROW WHEN (OLD.rack <> '') EXECUTE FUNCTION note_roster_move();
