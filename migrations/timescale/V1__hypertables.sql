-- Samples and bins in chunks by time. The key (tracker, time) is all the index they need. Rows that
-- were written before the extension came are moved.
SELECT create_hypertable('sample', by_range('time', INTERVAL '1 day'),
                         create_default_indexes => false, migrate_data => true);
SELECT create_hypertable('bin', by_range('time', INTERVAL '7 days'),
                         create_default_indexes => false, migrate_data => true);
