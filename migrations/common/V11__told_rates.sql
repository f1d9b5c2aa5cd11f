-- What was told of a soak's rates, each with the second from which it holds: the first before the
-- soak began, later ones while it went on. Soaks of before take what the roster says today.
ALTER TABLE soak_terms ADD COLUMN rates jsonb;

UPDATE soak_terms t
SET rates = jsonb_build_array(jsonb_build_object(
      'from_second', floor(extract(epoch FROM s.start_time))::bigint,
      'rates', coalesce(r.rates, 'unknown')))
FROM soak s LEFT JOIN tracker r ON r.id = s.tracker
WHERE s.id = t.soak;
