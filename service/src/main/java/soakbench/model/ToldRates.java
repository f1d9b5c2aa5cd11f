package soakbench.model;

import soakbench.model.Tracker.Rates;

/**
 * What was told of a tracker's rates.
 *
 * @param fromSecond the second since 1970 from which it holds, of the samples' own time
 * @param rates what was told
 */
public record ToldRates(long fromSecond, Rates rates) {}
