-- Old chunks are compressed, a tracker's rows together and by time, as they are read. When is the
-- service's option, and set at its start.
ALTER TABLE sample SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                        timescaledb.orderby = 'time');
ALTER TABLE bin SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',
                     timescaledb.orderby = 'time');
