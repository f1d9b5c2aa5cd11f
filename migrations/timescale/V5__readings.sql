-- A sensor has few steps within a thousand of its readings, and firmware prints them as decimals, of
-- which no two have binary digits in common. As real a column is compressed by what one number shares
-- with the next (3 to 4 bytes a reading). Any other type is compressed as a list of the numbers that
-- occur and their places in it (1.0 to 1.5 bytes); so reading is a real by another name, for whoever
-- reads and writes it the same.
CREATE DOMAIN reading AS real;

-- The type can't be changed while chunks are compressed, or where somebody's view rests on it. There
-- all stays as it was, and the log says so: docs/storage.md tells how to change it by hand.
DO $$
BEGIN
  ALTER TABLE sample SET (timescaledb.enable_columnstore = false);
  ALTER TABLE sample
    ALTER temperature_c TYPE reading,
    ALTER gx_dps TYPE reading, ALTER gy_dps TYPE reading, ALTER gz_dps TYPE reading,
    ALTER ax_g TYPE reading, ALTER ay_g TYPE reading, ALTER az_g TYPE reading;
  ALTER TABLE sample SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                          timescaledb.orderby = 'time');
EXCEPTION
  WHEN feature_not_supported THEN
    RAISE WARNING 'compressed samples go on taking three times the room they need: %', SQLERRM;
END $$;
