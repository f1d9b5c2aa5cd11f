-- A sensor has few steps within a thousand of its readings, and firmware prints them as decimals, of
-- which no two have binary digits in common. As real a column is compressed by what one number shares
-- with the next (3 to 4 bytes a reading). Any other type is compressed as a list of the numbers that
-- occur and their places in it (1.0 to 1.5 bytes); so reading is a real by another name, for whoever
-- reads and writes it the same.
--
-- The type can't be changed while chunks are compressed. Where some are, all stays as it is:
-- docs/storage.md says how to change it by hand.
CREATE DOMAIN reading AS real;

DO $$
BEGIN
  IF EXISTS (SELECT FROM timescaledb_information.chunks
             WHERE hypertable_schema = current_schema() AND hypertable_name = 'sample'
               AND is_compressed) THEN
    RETURN;
  END IF;
  ALTER TABLE sample SET (timescaledb.enable_columnstore = false);
  ALTER TABLE sample
    ALTER temperature_c TYPE reading,
    ALTER gx_dps TYPE reading, ALTER gy_dps TYPE reading, ALTER gz_dps TYPE reading,
    ALTER ax_g TYPE reading, ALTER ay_g TYPE reading, ALTER az_g TYPE reading;
  ALTER TABLE sample SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                          timescaledb.orderby = 'time');
END $$;
