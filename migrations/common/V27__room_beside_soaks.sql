-- Each open soak changes every second, in columns that no index has: with room beside it the new
-- version stays on its page and no index is touched.
ALTER TABLE soak SET (fillfactor = 50);
