-- Old chunks are compressed, a tracker's rows together and by time, as they are read. When is the
-- service's option, and set at its start.
ALTER TABLE sample SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                        timescaledb.orderby = 'time');
ALTER TABLE bin SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                     timescaledb.orderby = 'time');

-- A soak into which a late sample falls is derived again as a whole: ten hours are 36,000 bins, three
-- weeks 1.8 million, where 100,000 is the limit for rows that one change may unpack.
DO $$ BEGIN
  EXECUTE format('ALTER DATABASE %I SET timescaledb.max_tuples_decompressed_per_dml_transaction = 0',
                 current_database());
END $$;
