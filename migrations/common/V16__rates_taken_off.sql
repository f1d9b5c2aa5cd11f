-- What a firmware takes off its rates is told apart: a stored offset (constant), or the drift itself (follows). Which of the
-- two "corrected" was, nobody knows any more.
UPDATE tracker SET rates = 'unknown' WHERE rates = 'corrected';

UPDATE soak_terms
SET rates = replace(rates::text, '"corrected"', '"unknown"')::jsonb
WHERE rates::text LIKE '%"corrected"%';
