package soakbench.live;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.RackAndLot;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/**
 * What {@code live} needs of a store. All writing happens in units of work: samples and everything
 * derived from them are committed together, so that after any crash the store holds one consistent
 * cut.
 */
public interface SoakStore {

  /** Begins a unit of work. Only one is open at a time. */
  Unit begin();

  /** Begins a unit in which nothing is written, also where this program may not write. */
  default Unit beginReading() {
    return begin();
  }

  /**
   * Whether another program may have written since this was asked for the last time, because this
   * one had lost the right to for a while.
   */
  default boolean othersMayHaveWritten() {
    return false;
  }

  /**
   * Opens a reader of what is stored, which may stay open beside a unit of work and for as long as
   * it takes: it blocks nobody. It sees what was committed before each call; what a unit has
   * written and not yet committed may be seen or not.
   */
  Reader reader();

  /** Reads what is stored. Failures are {@link StoreException}. */
  interface Reader extends AutoCloseable {

    /** Samples of one tracker with {@code fromUs <= time < toUs}, by time. */
    List<Sample> samples(String tracker, long fromUs, long toUs);

    /**
     * The time of a tracker's first sample at or after {@code fromUs}; empty where none follows.
     */
    OptionalLong nextSampleUs(String tracker, long fromUs);

    /** The time of a tracker's last sample before {@code toUs}; empty where none is. */
    OptionalLong lastSampleUs(String tracker, long toUs);

    /** How many samples of one tracker have {@code fromUs <= time < toUs}. */
    long countSamples(String tracker, long fromUs, long toUs);

    /** Bins of one tracker with {@code fromSecond <= second < toSecond}, by second. */
    List<Bin> bins(String tracker, long fromSecond, long toSecond);

    /** All bins of a soak, by second. */
    default List<Bin> bins(Soak soak) {
      return bins(soak.tracker(), soak.startSecond(), soak.endSecond() + 1);
    }

    /** What a soak is judged by; empty for one stored before terms were. */
    Optional<SoakTerms> terms(String soak);

    /** All soaks of a tracker that end at or after {@code fromUs}, by start. */
    List<Soak> soaks(String tracker, long fromUs);

    List<StateChange> timeline(String soak);

    /**
     * Which of a tracker's seconds are stale: they have samples that its derived rows do not
     * include yet.
     */
    Optional<StaleRange> stale(String tracker);

    /** Trackers that have something out of date. */
    List<String> staleTrackers();

    @Override
    void close();
  }

  /**
   * One atomic unit of work; it reads its own writes. Closing without {@link #commit} rolls
   * everything back. Failures are {@link StoreException}.
   */
  interface Unit extends Reader {

    /**
     * Writes samples, keyed by (tracker, time). A sample whose key exists (or stands earlier in the
     * same list) is not written again: it is a duplicate where all values agree, else conflicting.
     *
     * @param samples in any order, any trackers
     * @return which of them are new, in the given order, and the counts of the others
     */
    Written writeSamples(List<Sample> samples);

    /**
     * Keeps samples with {@code fromUs <= time < toUs} of one tracker apart from the others: they
     * are read no more, but one that is sent again still counts as a duplicate.
     *
     * @param butUs times of those that stay where they are
     */
    void setAside(String tracker, long fromUs, long toUs, Set<Long> butUs);

    /** Notes that these samples came by an import, so that they can be taken out again. */
    void noteImported(long imported, List<Sample> samples);

    /**
     * The first stretch in which samples of an import still are, as far as the soak that they lie
     * in; empty where none is.
     *
     * @param after only of trackers whose ids come after this one; empty for all
     */
    Optional<ImportedStretch> nextImported(long imported, String after);

    /** How many samples of a stretch came by an import, also where they are no longer stored. */
    long countImported(long imported, ImportedStretch stretch);

    /**
     * Removes the samples of a stretch that came by an import, and what was noted of them.
     *
     * @return how many there were
     */
    long takeOut(long imported, ImportedStretch stretch);

    /**
     * Gives samples with {@code fromUs <= time < toUs} of one tracker, and what is noted of their
     * import, to another. Those of times at which the other has samples are set aside.
     */
    Moved moveSamples(String tracker, String into, long fromUs, long toUs);

    /**
     * Gives a soak, with its bins, terms, summary and timeline, to another tracker that has nothing
     * at its times.
     *
     * @param other the same soak as that tracker's
     */
    void moveSoak(Soak soak, Soak other);

    /** Removes bins of one tracker with {@code fromSecond <= second < toSecond}. */
    void deleteBins(String tracker, long fromSecond, long toSecond);

    /** Writes bins; a bin with the same (tracker, second) is replaced. */
    void writeBins(List<Bin> bins);

    /**
     * Writes a soak; one with the same id is replaced. That its samples are no longer stored is
     * never taken back.
     */
    void writeSoak(Soak soak);

    /** The same for several, which cost hardly more than one. */
    default void writeSoaks(Collection<Soak> soaks) {
      soaks.forEach(this::writeSoak);
    }

    /** Writes what a soak is judged by; other terms of the same soak are replaced. */
    void writeTerms(String soak, SoakTerms terms);

    /** The same for several soaks, by id, which cost hardly more than one. */
    default void writeTerms(Map<String, SoakTerms> terms) {
      terms.forEach(this::writeTerms);
    }

    /** Gives these terms to every soak that has none. */
    void adoptTerms(SoakTerms terms);

    /** Adds the newest entry to the history of limits. */
    void addLimits(LimitsChange change);

    /** Until this unit ends nobody else adds to the history of limits, of whatever racks. */
    void holdLimits();

    /** The newest entry of the history of limits holds for the soaks under way as well. */
    void limitsForSoaks();

    /** Whether the newest entry of the history of limits holds for the soaks under way as well. */
    boolean areLimitsForSoaks();

    /** The newest entry of the history of limits. */
    Optional<LimitsChange> newestLimits();

    /** Writes the summary of a soak; an earlier one is replaced. */
    void writeSummary(SoakSummary summary);

    /**
     * The summaries of soaks, the newest of each tracker, by soak. Tracker, end and whether it has
     * ended are the soak's own; a summary whose soak is not stored, or is left out of the figures,
     * is not among them.
     *
     * @param most so many of each tracker
     */
    List<SoakSummary> summaries(int most);

    /** Soaks that people left out of the figures: nothing of them is used for later ones. */
    Set<String> leftOut();

    /** Where each listed tracker lies and where it came from, by tracker id. */
    Map<String, RackAndLot> racksAndLots();

    /**
     * How often the roster has moved a tracker to another rack. From this call to the end of the
     * unit none is moved: who moves one waits for it. 0 where there is no roster.
     */
    default long moves() {
      return 0;
    }

    /**
     * Keeps the judge of a stored soak that is open, in place of the one before. It goes with any
     * change of what it rests on: when the soak ends or is removed, its timeline is replaced, or
     * bins of its tracker are removed.
     */
    void keepJudge(KeptJudge judge);

    /**
     * The judge that a program kept of a soak; empty where none is, or where the bins until its
     * second are not as many, of as many readings, as it was given.
     */
    Optional<KeptJudge> keptJudge(Soak soak, String program);

    /** Removes a soak, its terms, summary and timeline (not its samples and bins). */
    void deleteSoak(String soak);

    /** The soak of every tracker that goes on, or where none does, its last by start. */
    List<Soak> lastSoaks();

    /** Appends to a soak's timeline. */
    void appendTimeline(String soak, List<StateChange> changes);

    /** The same for several soaks, by id, which cost hardly more than one. */
    default void appendTimelines(Map<String, List<StateChange>> changes) {
      changes.forEach(this::appendTimeline);
    }

    /** Replaces a soak's whole timeline. */
    void replaceTimeline(String soak, List<StateChange> changes);

    /**
     * Marks these seconds of trackers as stale: they have samples that its derived rows do not
     * include yet; joins them with those marked before.
     */
    void markStale(Map<String, StaleRange> seconds);

    void clearStale(String tracker);

    void commit();
  }

  /**
   * What became of written samples.
   *
   * @param fresh the samples that were new, in the given order
   * @param duplicate how many were there already with the same values
   * @param conflicting how many were there already with other values (the first is kept)
   */
  record Written(List<Sample> fresh, int duplicate, int conflicting) {}

  /**
   * What became of samples that were given to another tracker.
   *
   * @param moved how many it has now
   * @param aside how many were set aside, because it has others of their times
   */
  record Moved(long moved, long aside) {}
}
