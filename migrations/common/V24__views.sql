-- Views for people who ask the database themselves: columns have the names and units of the calls that
-- answer the same. Names and types stay from one release to the next; columns may be added at the end.

CREATE VIEW v_soak AS
SELECT s.id AS soak,
       s.tracker,
       coalesce(t.name, s.tracker) AS name,
       coalesce(t.lot, '') AS lot,
       s.start_time AS start,
       s.end_time AS "end",
       s.samples,
       s.ended,
       s.samples_kept,
       (SELECT l.reason FROM soak_left_out l
        WHERE l.tracker = s.tracker AND l.at >= s.start_time AND l.at <= s.end_time
        ORDER BY l.at LIMIT 1) AS left_out,
       coalesce(t.rack, '') AS rack,
       coalesce(t.slot, '') AS slot
FROM soak s LEFT JOIN tracker t ON t.id = s.tracker;

COMMENT ON VIEW v_soak IS 'Soaks, as GET /api/soaks lists them.';
COMMENT ON COLUMN v_soak.soak IS 'the soak''s id';
COMMENT ON COLUMN v_soak.tracker IS 'the tracker''s id';
COMMENT ON COLUMN v_soak.name IS 'what people call the tracker; its id where the roster does not list it';
COMMENT ON COLUMN v_soak.lot IS 'the lot that its IMU came from; empty where not known';
COMMENT ON COLUMN v_soak.start IS 'time of its first sample';
COMMENT ON COLUMN v_soak."end" IS 'time of its newest sample';
COMMENT ON COLUMN v_soak.samples IS 'count of its samples';
COMMENT ON COLUMN v_soak.ended IS 'why it ended; NULL while it goes on';
COMMENT ON COLUMN v_soak.samples_kept IS 'whether all of its samples are still stored';
COMMENT ON COLUMN v_soak.left_out IS 'why people left it out of the figures; NULL where it counts';
COMMENT ON COLUMN v_soak.rack IS 'the rack on which the roster has the tracker now; empty where not known';
COMMENT ON COLUMN v_soak.slot IS 'its slot there; empty where not known';

CREATE VIEW v_readiness AS
SELECT s.tracker,
       coalesce(t.name, s.tracker) AS name,
       coalesce(t.lot, '') AS lot,
       coalesce(t.rack, '') AS rack,
       coalesce(t.slot, '') AS slot,
       s.id AS soak,
       n.state,
       n.time AS since,
       s.end_time AS newest_sample,
       b.temperature_mean_c AS temperature_c
FROM soak s
LEFT JOIN tracker t ON t.id = s.tracker
LEFT JOIN LATERAL (SELECT l.state, l.time FROM timeline l WHERE l.soak = s.id
                   ORDER BY l.entry DESC LIMIT 1) n ON true
LEFT JOIN LATERAL (SELECT c.temperature_mean_c FROM bin c
                   WHERE c.tracker = s.tracker AND c.time >= date_trunc('second', s.start_time)
                     AND c.temperature_count > 0
                   ORDER BY c.time DESC LIMIT 1) b ON true
WHERE s.ended IS NULL;

COMMENT ON VIEW v_readiness IS 'Trackers with an open soak and the state that was stored of each. GET /api/readiness knows more: heat and silence by the clock, conditions, the expected time.';
COMMENT ON COLUMN v_readiness.tracker IS 'the tracker''s id';
COMMENT ON COLUMN v_readiness.name IS 'what people call the tracker; its id where the roster does not list it';
COMMENT ON COLUMN v_readiness.lot IS 'the lot that its IMU came from; empty where not known';
COMMENT ON COLUMN v_readiness.rack IS 'the rack on which the roster has it; empty where not known';
COMMENT ON COLUMN v_readiness.slot IS 'its slot there; empty where not known';
COMMENT ON COLUMN v_readiness.soak IS 'its open soak''s id';
COMMENT ON COLUMN v_readiness.state IS 'the newest state of its timeline; NULL where nothing is judged yet';
COMMENT ON COLUMN v_readiness.since IS 'from when on it has been in that state, by its samples'' time';
COMMENT ON COLUMN v_readiness.newest_sample IS 'time of its newest stored sample; one that is minutes old tells of a silent tracker';
COMMENT ON COLUMN v_readiness.temperature_c IS 'temperature of the newest stored second, degC; NULL before the first';

CREATE VIEW v_bins AS
SELECT s.id AS soak,
       b.tracker,
       b.time,
       trunc(extract(epoch FROM b.time - s.start_time) * 1000)::bigint AS since_start_ms,
       b.boot,
       b.temperature_mean_c AS temperature_c, b.temperature_sd_c, b.temperature_count,
       b.gx_mean_dps AS gx_dps, b.gx_sd_dps, b.gx_count,
       b.gy_mean_dps AS gy_dps, b.gy_sd_dps, b.gy_count,
       b.gz_mean_dps AS gz_dps, b.gz_sd_dps, b.gz_count,
       b.ax_mean_g AS ax_g, b.ax_sd_g, b.ax_count,
       b.ay_mean_g AS ay_g, b.ay_sd_g, b.ay_count,
       b.az_mean_g AS az_g, b.az_sd_g, b.az_count,
       b.temperature_step_c,
       b.gyro_step_dps
FROM soak s
JOIN bin b ON b.tracker = s.tracker AND b.time >= date_trunc('second', s.start_time)
          AND b.time <= s.end_time;

COMMENT ON VIEW v_bins IS 'Seconds of soaks, as GET /api/soaks/SOAK/bins.csv answers them. Ask for one soak, or one tracker and a time: there are many.';
COMMENT ON COLUMN v_bins.soak IS 'the soak''s id';
COMMENT ON COLUMN v_bins.tracker IS 'the tracker''s id';
COMMENT ON COLUMN v_bins.time IS 'start of the second';
COMMENT ON COLUMN v_bins.since_start_ms IS 'from the soak''s start to the start of the second, ms; the first may be negative';
COMMENT ON COLUMN v_bins.boot IS 'reboots seen since the soak began';
COMMENT ON COLUMN v_bins.temperature_c IS 'mean temperature, degC; NULL where not measured';
COMMENT ON COLUMN v_bins.temperature_sd_c IS 'standard deviation of the temperature, degC; NULL where not measured';
COMMENT ON COLUMN v_bins.temperature_count IS 'readings of the temperature';
COMMENT ON COLUMN v_bins.gx_dps IS 'mean rate about x, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gx_sd_dps IS 'standard deviation of the rate about x, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gx_count IS 'readings of the rate about x';
COMMENT ON COLUMN v_bins.gy_dps IS 'mean rate about y, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gy_sd_dps IS 'standard deviation of the rate about y, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gy_count IS 'readings of the rate about y';
COMMENT ON COLUMN v_bins.gz_dps IS 'mean rate about z, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gz_sd_dps IS 'standard deviation of the rate about z, deg/s; NULL where not measured';
COMMENT ON COLUMN v_bins.gz_count IS 'readings of the rate about z';
COMMENT ON COLUMN v_bins.ax_g IS 'mean acceleration along x, g; NULL where not measured';
COMMENT ON COLUMN v_bins.ax_sd_g IS 'standard deviation of the acceleration along x, g; NULL where not measured';
COMMENT ON COLUMN v_bins.ax_count IS 'readings of the acceleration along x';
COMMENT ON COLUMN v_bins.ay_g IS 'mean acceleration along y, g; NULL where not measured';
COMMENT ON COLUMN v_bins.ay_sd_g IS 'standard deviation of the acceleration along y, g; NULL where not measured';
COMMENT ON COLUMN v_bins.ay_count IS 'readings of the acceleration along y';
COMMENT ON COLUMN v_bins.az_g IS 'mean acceleration along z, g; NULL where not measured';
COMMENT ON COLUMN v_bins.az_sd_g IS 'standard deviation of the acceleration along z, g; NULL where not measured';
COMMENT ON COLUMN v_bins.az_count IS 'readings of the acceleration along z';
COMMENT ON COLUMN v_bins.temperature_step_c IS 'smallest difference between two different temperatures of the second, degC; NULL where all are the same';
COMMENT ON COLUMN v_bins.gyro_step_dps IS 'smallest difference between two different readings of one axis in the second, deg/s; NULL where all are the same';

CREATE VIEW v_figures AS
SELECT s.id AS soak,
       s.tracker,
       coalesce(t.name, s.tracker) AS name,
       coalesce(t.lot, '') AS lot,
       s.start_time AS start,
       s.end_time AS "end",
       s.ended,
       (SELECT l.reason FROM soak_left_out l
        WHERE l.tracker = s.tracker AND l.at >= s.start_time AND l.at <= s.end_time
        ORDER BY l.at LIMIT 1) AS left_out,
       a->>'axis' AS axis,
       (d.content->>'operatingC')::double precision AS operating_c,
       (d.content->>'lowC')::double precision AS low_c,
       (d.content->>'highC')::double precision AS high_c,
       (d.content->>'useC')::double precision AS use_c,
       (d.content->>'sampleRateHz')::double precision AS sample_rate_hz,
       (a->'biasDps'->>'value')::double precision AS bias_dps,
       (a->'biasDps'->>'se')::double precision AS bias_dps_se,
       (a->'biasDps'->>'low')::double precision AS bias_dps_low,
       (a->'biasDps'->>'high')::double precision AS bias_dps_high,
       (a->'tempcoDpsPerC'->>'value')::double precision AS tempco_dps_per_c,
       (a->'tempcoDpsPerC'->>'se')::double precision AS tempco_dps_per_c_se,
       (a->'tempcoDpsPerC'->>'low')::double precision AS tempco_dps_per_c_low,
       (a->'tempcoDpsPerC'->>'high')::double precision AS tempco_dps_per_c_high,
       (a->'spanDps'->>'value')::double precision AS span_dps,
       (a->'spanDps'->>'se')::double precision AS span_dps_se,
       (a->'spanDps'->>'low')::double precision AS span_dps_low,
       (a->'spanDps'->>'high')::double precision AS span_dps_high,
       (a->'settlingDps'->>'value')::double precision AS settling_dps,
       (a->'settlingDps'->>'se')::double precision AS settling_dps_se,
       (a->'settlingDps'->>'low')::double precision AS settling_dps_low,
       (a->'settlingDps'->>'high')::double precision AS settling_dps_high,
       (a->'angleRandomWalkDegPerSqrtH'->>'value')::double precision AS angle_random_walk_deg_per_sqrt_h,
       (a->'angleRandomWalkDegPerSqrtH'->>'se')::double precision AS angle_random_walk_deg_per_sqrt_h_se,
       (a->'angleRandomWalkDegPerSqrtH'->>'low')::double precision AS angle_random_walk_deg_per_sqrt_h_low,
       (a->'angleRandomWalkDegPerSqrtH'->>'high')::double precision AS angle_random_walk_deg_per_sqrt_h_high,
       (a->'biasInstabilityDegPerH'->>'value')::double precision AS bias_instability_deg_per_h,
       (a->'biasInstabilityDegPerH'->>'se')::double precision AS bias_instability_deg_per_h_se,
       (a->'biasInstabilityDegPerH'->>'low')::double precision AS bias_instability_deg_per_h_low,
       (a->'biasInstabilityDegPerH'->>'high')::double precision AS bias_instability_deg_per_h_high,
       (a->'rateRandomWalkDpsPerSqrtS'->>'value')::double precision AS rate_random_walk_dps_per_sqrt_s,
       (a->'rateRandomWalkDpsPerSqrtS'->>'se')::double precision AS rate_random_walk_dps_per_sqrt_s_se,
       (a->'rateRandomWalkDpsPerSqrtS'->>'low')::double precision AS rate_random_walk_dps_per_sqrt_s_low,
       (a->'rateRandomWalkDpsPerSqrtS'->>'high')::double precision AS rate_random_walk_dps_per_sqrt_s_high,
       (a->>'residualSdDps')::double precision AS residual_sd_dps,
       (d.content->'plateauC'->>'value')::double precision AS plateau_c,
       (d.content->'plateauC'->>'se')::double precision AS plateau_c_se,
       (d.content->'plateauC'->>'low')::double precision AS plateau_c_low,
       (d.content->'plateauC'->>'high')::double precision AS plateau_c_high,
       (d.content->'timeConstantS'->>'value')::double precision AS time_constant_s,
       (d.content->'timeConstantS'->>'se')::double precision AS time_constant_s_se,
       (d.content->'timeConstantS'->>'low')::double precision AS time_constant_s_low,
       (d.content->'timeConstantS'->>'high')::double precision AS time_constant_s_high,
       (d.content->'degPerMin'->>'value')::double precision AS deg_per_min,
       (d.content->'degPerMin'->>'se')::double precision AS deg_per_min_se,
       (d.content->'degPerMin'->>'low')::double precision AS deg_per_min_low,
       (d.content->'degPerMin'->>'high')::double precision AS deg_per_min_high,
       (d.content->'minutesTo5Deg'->>'value')::double precision AS minutes_to_5_deg,
       (d.content->'minutesTo5Deg'->>'se')::double precision AS minutes_to_5_deg_se,
       (d.content->'minutesTo5Deg'->>'low')::double precision AS minutes_to_5_deg_low,
       (d.content->'minutesTo5Deg'->>'high')::double precision AS minutes_to_5_deg_high
FROM derived d
JOIN soak s ON s.id = d.soak
LEFT JOIN tracker t ON t.id = s.tracker
CROSS JOIN LATERAL jsonb_array_elements(d.content->'axes') AS axes (a)
WHERE d.kind = 'figures';

COMMENT ON VIEW v_figures IS 'The figures of each soak, a row an axis, as GET /api/trackers/ID/figures answers them soak by soak. A figure is NULL where it is not known; the call says why. Columns ending in _se, _low and _high are its standard error and its 95 % limits. The figures of a tracker over all its soaks are no mean of these: GET /api/figures.csv.';
COMMENT ON COLUMN v_figures.soak IS 'the soak''s id';
COMMENT ON COLUMN v_figures.tracker IS 'the tracker''s id';
COMMENT ON COLUMN v_figures.name IS 'what people call the tracker; its id where the roster does not list it';
COMMENT ON COLUMN v_figures.lot IS 'the lot that its IMU came from; empty where not known';
COMMENT ON COLUMN v_figures.start IS 'time of the soak''s first sample';
COMMENT ON COLUMN v_figures."end" IS 'time of its newest sample';
COMMENT ON COLUMN v_figures.ended IS 'why it ended; NULL while it goes on';
COMMENT ON COLUMN v_figures.left_out IS 'why people left it out of the figures; NULL where it counts';
COMMENT ON COLUMN v_figures.axis IS 'x, y or z';
COMMENT ON COLUMN v_figures.operating_c IS 'temperature at which bias and its slope are given, degC';
COMMENT ON COLUMN v_figures.low_c IS 'lowest temperature that the bias curve covers, degC';
COMMENT ON COLUMN v_figures.high_c IS 'highest temperature that the bias curve covers, degC';
COMMENT ON COLUMN v_figures.use_c IS 'temperature in use, degC';
COMMENT ON COLUMN v_figures.sample_rate_hz IS 'median readings a second, Hz';
COMMENT ON COLUMN v_figures.bias_dps IS 'bias at operating_c, deg/s';
COMMENT ON COLUMN v_figures.bias_dps_se IS 'its standard error, deg/s; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.bias_dps_low IS 'its lower 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.bias_dps_high IS 'its upper 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.tempco_dps_per_c IS 'slope of the bias at operating_c, deg/s per degC';
COMMENT ON COLUMN v_figures.tempco_dps_per_c_se IS 'its standard error, deg/s per degC; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.tempco_dps_per_c_low IS 'its lower 95 % limit, deg/s per degC';
COMMENT ON COLUMN v_figures.tempco_dps_per_c_high IS 'its upper 95 % limit, deg/s per degC';
COMMENT ON COLUMN v_figures.span_dps IS 'greatest less least bias over the covered temperatures, deg/s';
COMMENT ON COLUMN v_figures.span_dps_se IS 'its standard error, deg/s; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.span_dps_low IS 'its lower 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.span_dps_high IS 'its upper 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.settling_dps IS 'what is added to the bias at power-on and dies away within minutes, deg/s';
COMMENT ON COLUMN v_figures.settling_dps_se IS 'its standard error, deg/s; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.settling_dps_low IS 'its lower 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.settling_dps_high IS 'its upper 95 % limit, deg/s';
COMMENT ON COLUMN v_figures.angle_random_walk_deg_per_sqrt_h IS 'angle random walk, deg per square root of an hour';
COMMENT ON COLUMN v_figures.angle_random_walk_deg_per_sqrt_h_se IS 'its standard error, deg per square root of an hour; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.angle_random_walk_deg_per_sqrt_h_low IS 'its lower 95 % limit, deg per square root of an hour';
COMMENT ON COLUMN v_figures.angle_random_walk_deg_per_sqrt_h_high IS 'its upper 95 % limit, deg per square root of an hour';
COMMENT ON COLUMN v_figures.bias_instability_deg_per_h IS 'bias instability, deg/h';
COMMENT ON COLUMN v_figures.bias_instability_deg_per_h_se IS 'its standard error, deg/h; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.bias_instability_deg_per_h_low IS 'its lower 95 % limit, deg/h';
COMMENT ON COLUMN v_figures.bias_instability_deg_per_h_high IS 'its upper 95 % limit, deg/h';
COMMENT ON COLUMN v_figures.rate_random_walk_dps_per_sqrt_s IS 'rate random walk, deg/s per square root of a second';
COMMENT ON COLUMN v_figures.rate_random_walk_dps_per_sqrt_s_se IS 'its standard error, deg/s per square root of a second; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.rate_random_walk_dps_per_sqrt_s_low IS 'its lower 95 % limit, deg/s per square root of a second';
COMMENT ON COLUMN v_figures.rate_random_walk_dps_per_sqrt_s_high IS 'its upper 95 % limit, deg/s per square root of a second';
COMMENT ON COLUMN v_figures.residual_sd_dps IS 'standard deviation of half-minutes about the bias curve, deg/s';
COMMENT ON COLUMN v_figures.plateau_c IS 'temperature at which the warm-up levels, degC';
COMMENT ON COLUMN v_figures.plateau_c_se IS 'its standard error, degC; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.plateau_c_low IS 'its lower 95 % limit, degC';
COMMENT ON COLUMN v_figures.plateau_c_high IS 'its upper 95 % limit, degC';
COMMENT ON COLUMN v_figures.time_constant_s IS 'time constant of the body, s';
COMMENT ON COLUMN v_figures.time_constant_s_se IS 'its standard error, s; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.time_constant_s_low IS 'its lower 95 % limit, s';
COMMENT ON COLUMN v_figures.time_constant_s_high IS 'its upper 95 % limit, s';
COMMENT ON COLUMN v_figures.deg_per_min IS 'heading error of a calibration at the newest temperature, used at use_c, deg/min';
COMMENT ON COLUMN v_figures.deg_per_min_se IS 'its standard error, deg/min; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.deg_per_min_low IS 'its lower 95 % limit, deg/min';
COMMENT ON COLUMN v_figures.deg_per_min_high IS 'its upper 95 % limit, deg/min';
COMMENT ON COLUMN v_figures.minutes_to_5_deg IS 'time until five degrees of heading error, min';
COMMENT ON COLUMN v_figures.minutes_to_5_deg_se IS 'its standard error, min; NULL where only the limits are known';
COMMENT ON COLUMN v_figures.minutes_to_5_deg_low IS 'its lower 95 % limit, min';
COMMENT ON COLUMN v_figures.minutes_to_5_deg_high IS 'its upper 95 % limit, min';
