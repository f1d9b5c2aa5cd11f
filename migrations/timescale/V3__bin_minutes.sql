-- A minute of one tracker, put together from its bins, for charts over months. Of each channel least,
-- sum, count and greatest of the seconds' means, so that minutes can be put together further.
-- Newest bins that are not put together yet are read from the bins themselves.
CREATE MATERIALIZED VIEW bin_minute
WITH (timescaledb.continuous, timescaledb.materialized_only = false) AS
SELECT tracker,
       time_bucket(INTERVAL '1 minute', time) AS minute,
       min(time) AS first_second,
       max(time) AS last_second,
       count(*) AS seconds,
       max(boot) AS boot,
       max(greatest(gx_sd_dps, gy_sd_dps, gz_sd_dps)) AS gyro_sd_dps,
       min(temperature_mean_c) AS temperature_low_c, sum(temperature_mean_c) AS temperature_sum_c,
       count(temperature_mean_c) AS temperature_seconds, max(temperature_mean_c) AS temperature_high_c,
       min(gx_mean_dps) AS gx_low_dps, sum(gx_mean_dps) AS gx_sum_dps,
       count(gx_mean_dps) AS gx_seconds, max(gx_mean_dps) AS gx_high_dps,
       min(gy_mean_dps) AS gy_low_dps, sum(gy_mean_dps) AS gy_sum_dps,
       count(gy_mean_dps) AS gy_seconds, max(gy_mean_dps) AS gy_high_dps,
       min(gz_mean_dps) AS gz_low_dps, sum(gz_mean_dps) AS gz_sum_dps,
       count(gz_mean_dps) AS gz_seconds, max(gz_mean_dps) AS gz_high_dps,
       min(ax_mean_g) AS ax_low_g, sum(ax_mean_g) AS ax_sum_g,
       count(ax_mean_g) AS ax_seconds, max(ax_mean_g) AS ax_high_g,
       min(ay_mean_g) AS ay_low_g, sum(ay_mean_g) AS ay_sum_g,
       count(ay_mean_g) AS ay_seconds, max(ay_mean_g) AS ay_high_g,
       min(az_mean_g) AS az_low_g, sum(az_mean_g) AS az_sum_g,
       count(az_mean_g) AS az_seconds, max(az_mean_g) AS az_high_g
FROM bin GROUP BY 1, 2
WITH NO DATA;

-- Without a start: bins that came late, however late, are put together again. Only minutes whose bins
-- changed are gone through, a day of them at a time: by default it would be a minute at a time, which
-- takes hours for the first year. The newest hour still changes and is left to the bins.
DO $$
DECLARE
  job integer := add_continuous_aggregate_policy('bin_minute', start_offset => NULL,
                                                 end_offset => INTERVAL '1 hour',
                                                 schedule_interval => INTERVAL '30 minutes');
BEGIN
  PERFORM alter_job(job_id, config => config || '{"buckets_per_batch": 1440}')
  FROM timescaledb_information.jobs WHERE job_id = job;
END $$;
