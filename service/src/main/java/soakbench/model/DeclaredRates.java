package soakbench.model;

import java.io.Serializable;
import soakbench.model.Tracker.Rates;

/**
 * What the roster declared of a tracker's rates.
 *
 * @param fromSecond the second since 1970 from which it holds, of the samples' own time
 * @param rates what was declared
 */
public record DeclaredRates(long fromSecond, Rates rates) implements Serializable {}
