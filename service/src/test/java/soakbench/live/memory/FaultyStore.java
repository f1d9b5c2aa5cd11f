package soakbench.live.memory;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import soakbench.live.ImportedStretch;
import soakbench.live.KeptJudge;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.StaleRange;
import soakbench.live.StoreException;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.RackAndLot;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/**
 * A store in memory that fails at one call, counted over everything that is asked of it: before it
 * does anything, or after it has done it (a commit whose answer got lost).
 */
public final class FaultyStore implements SoakStore {
  private final MemoryStore store = new MemoryStore();
  private final int failAt;
  private final boolean afterwards;
  private int calls;
  private int binsRead;

  public FaultyStore(int failAt, boolean afterwards) {
    this.failAt = failAt;
    this.afterwards = afterwards;
  }

  public int calls() {
    return calls;
  }

  public int binsRead() {
    return binsRead;
  }

  /** The judge that is kept of a soak; null where none is. */
  public KeptJudge keptJudge(String soak) {
    return store.tables.judges.get(soak);
  }

  @Override
  public Unit begin() {
    boolean fails = ++calls == failAt;
    if (fails) {
      throw failure();
    }
    return new FaultyUnit(store.begin());
  }

  @Override
  public Reader reader() {
    return new FaultyReader(call(store::reader));
  }

  private StoreException failure() {
    return new StoreException("the database is away (call " + calls + ")", null, true);
  }

  private interface Work<T> {
    T done();
  }

  private <T> T call(Work<T> work) {
    boolean fails = ++calls == failAt;
    if (fails && !afterwards) {
      throw failure();
    }
    T result = work.done();
    if (fails) {
      throw failure();
    }
    return result;
  }

  private void run(Runnable work) {
    call(
        () -> {
          work.run();
          return null;
        });
  }

  private class FaultyReader implements Reader {
    private final Reader reader;

    FaultyReader(Reader reader) {
      this.reader = reader;
    }

    @Override
    public List<Sample> samples(String tracker, long fromUs, long toUs) {
      return call(() -> reader.samples(tracker, fromUs, toUs));
    }

    @Override
    public List<Bin> bins(String tracker, long fromSecond, long toSecond) {
      List<Bin> read = call(() -> reader.bins(tracker, fromSecond, toSecond));
      binsRead += read.size();
      return read;
    }

    @Override
    public Optional<SoakTerms> terms(String soak) {
      return call(() -> reader.terms(soak));
    }

    @Override
    public List<Soak> soaks(String tracker, long fromUs) {
      return call(() -> reader.soaks(tracker, fromUs));
    }

    @Override
    public List<StateChange> timeline(String soak) {
      return call(() -> reader.timeline(soak));
    }

    @Override
    public Optional<StaleRange> stale(String tracker) {
      return call(() -> reader.stale(tracker));
    }

    @Override
    public List<String> staleTrackers() {
      return call(reader::staleTrackers);
    }

    @Override
    public OptionalLong nextSampleUs(String tracker, long fromUs) {
      return call(() -> reader.nextSampleUs(tracker, fromUs));
    }

    @Override
    public long countSamples(String tracker, long fromUs, long toUs) {
      return call(() -> reader.countSamples(tracker, fromUs, toUs));
    }

    @Override
    public OptionalLong lastSampleUs(String tracker, long toUs) {
      return call(() -> reader.lastSampleUs(tracker, toUs));
    }

    @Override
    public void close() {
      reader.close();
    }
  }

  private final class FaultyUnit extends FaultyReader implements Unit {
    private final Unit unit;

    FaultyUnit(Unit unit) {
      super(unit);
      this.unit = unit;
    }

    @Override
    public Written writeSamples(List<Sample> samples) {
      return call(() -> unit.writeSamples(samples));
    }

    @Override
    public void setAside(String tracker, long fromUs, long toUs, Set<Long> butUs) {
      run(() -> unit.setAside(tracker, fromUs, toUs, butUs));
    }

    @Override
    public void noteImported(long imported, List<Sample> samples) {
      run(() -> unit.noteImported(imported, samples));
    }

    @Override
    public Optional<ImportedStretch> nextImported(long imported, String after) {
      return call(() -> unit.nextImported(imported, after));
    }

    @Override
    public long countImported(long imported, ImportedStretch stretch) {
      return call(() -> unit.countImported(imported, stretch));
    }

    @Override
    public long takeOut(long imported, ImportedStretch stretch) {
      return call(() -> unit.takeOut(imported, stretch));
    }

    @Override
    public Moved moveSamples(String tracker, String into, long fromUs, long toUs) {
      return call(() -> unit.moveSamples(tracker, into, fromUs, toUs));
    }

    @Override
    public void moveSoak(Soak soak, Soak other) {
      run(() -> unit.moveSoak(soak, other));
    }

    @Override
    public void deleteBins(String tracker, long fromSecond, long toSecond) {
      run(() -> unit.deleteBins(tracker, fromSecond, toSecond));
    }

    @Override
    public void writeBins(List<Bin> bins) {
      run(() -> unit.writeBins(bins));
    }

    @Override
    public void writeSoak(Soak soak) {
      run(() -> unit.writeSoak(soak));
    }

    @Override
    public void writeTerms(String soak, SoakTerms terms) {
      run(() -> unit.writeTerms(soak, terms));
    }

    @Override
    public void adoptTerms(SoakTerms terms) {
      run(() -> unit.adoptTerms(terms));
    }

    @Override
    public void addLimits(LimitsChange change) {
      run(() -> unit.addLimits(change));
    }

    @Override
    public void holdLimits() {
      run(unit::holdLimits);
    }

    @Override
    public void limitsForSoaks() {
      run(unit::limitsForSoaks);
    }

    @Override
    public boolean areLimitsForSoaks() {
      return call(unit::areLimitsForSoaks);
    }

    @Override
    public Optional<LimitsChange> newestLimits() {
      return call(unit::newestLimits);
    }

    @Override
    public void writeSummary(SoakSummary summary) {
      run(() -> unit.writeSummary(summary));
    }

    @Override
    public List<SoakSummary> summaries(int most) {
      return call(() -> unit.summaries(most));
    }

    @Override
    public Set<String> leftOut() {
      return call(unit::leftOut);
    }

    @Override
    public Map<String, RackAndLot> racksAndLots() {
      return call(unit::racksAndLots);
    }

    @Override
    public void keepJudge(KeptJudge judge) {
      run(() -> unit.keepJudge(judge));
    }

    @Override
    public Optional<KeptJudge> keptJudge(Soak soak, String program) {
      return call(() -> unit.keptJudge(soak, program));
    }

    @Override
    public void deleteSoak(String soak) {
      run(() -> unit.deleteSoak(soak));
    }

    @Override
    public List<Soak> lastSoaks() {
      return call(unit::lastSoaks);
    }

    @Override
    public void appendTimeline(String soak, List<StateChange> changes) {
      run(() -> unit.appendTimeline(soak, changes));
    }

    @Override
    public void replaceTimeline(String soak, List<StateChange> changes) {
      run(() -> unit.replaceTimeline(soak, changes));
    }

    @Override
    public void markStale(Map<String, StaleRange> seconds) {
      run(() -> unit.markStale(seconds));
    }

    @Override
    public void clearStale(String tracker) {
      run(() -> unit.clearStale(tracker));
    }

    @Override
    public void commit() {
      run(unit::commit);
    }
  }
}
