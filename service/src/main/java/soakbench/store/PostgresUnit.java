package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.ImportedStretch;
import soakbench.live.KeptJudge;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.RackAndLot;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;
import soakbench.store.connection.Announcements;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.Pools;
import soakbench.store.derived.DerivedSummaries;
import soakbench.store.rows.AsideSamples;
import soakbench.store.rows.BinLayout;
import soakbench.store.rows.BulkWriter;
import soakbench.store.rows.ImportParts;
import soakbench.store.rows.KeptJudgeRows;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.LimitsHistory;
import soakbench.store.rows.Moves;
import soakbench.store.rows.RacksAndLots;
import soakbench.store.rows.SampleWriter;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.StaleRanges;
import soakbench.store.rows.Terms;
import soakbench.store.rows.Timelines;

/** A unit of work: one transaction. */
final class PostgresUnit extends PostgresQueries implements SoakStore.Unit {
  private static final Logger LOG = LoggerFactory.getLogger(PostgresUnit.class);

  private final Connection connection;
  private final Runnable whenClosed;
  private final SoakChanges changedSoaks;
  private final SoakChanges.OfUnit changes = new SoakChanges.OfUnit();
  private final Announcements announcements;

  /** Trackers of which something was judged again. */
  private final Set<String> again = new HashSet<>();

  private boolean wrote;
  private boolean closed;

  PostgresUnit(
      Connection connection,
      Runnable whenClosed,
      SoakChanges changedSoaks,
      Announcements announcements) {
    this.connection = connection;
    this.whenClosed = whenClosed;
    this.announcements = announcements;
    this.changedSoaks = changedSoaks;
  }

  @Override
  public SoakStore.Written writeSamples(List<Sample> samples) {
    return run("writing samples", c -> SampleWriter.write(c, samples));
  }

  @Override
  public void setAside(String tracker, long fromUs, long toUs, Set<Long> butUs) {
    run("setting samples aside", c -> AsideSamples.move(c, tracker, fromUs, toUs, butUs));
  }

  @Override
  public void noteImported(long imported, List<Sample> samples) {
    run("noting what was imported", c -> ImportParts.note(c, imported, samples));
  }

  @Override
  public Optional<ImportedStretch> nextImported(long imported, String after) {
    return run("looking for what was imported", c -> ImportParts.next(c, imported, after));
  }

  @Override
  public long countImported(long imported, ImportedStretch stretch) {
    return run("counting what was imported", c -> ImportParts.count(c, imported, stretch));
  }

  @Override
  public long takeOut(long imported, ImportedStretch stretch) {
    return run("taking out what was imported", c -> ImportParts.takeOut(c, imported, stretch));
  }

  @Override
  public SoakStore.Moved moveSamples(String tracker, String into, long fromUs, long toUs) {
    return run("moving samples", c -> Moves.samples(c, tracker, into, fromUs, toUs));
  }

  @Override
  public void moveSoak(Soak soak, Soak other) {
    changes.tracker(soak.tracker());
    changes.tracker(other.tracker());
    again.addAll(List.of(soak.tracker(), other.tracker()));
    run("removing a judge", c -> KeptJudgeRows.delete(c, soak.id()));
    run("moving a soak", c -> Moves.soak(c, soak, other));
  }

  @Override
  public void deleteBins(String tracker, long fromSecond, long toSecond) {
    again.add(tracker);
    run("removing judges", c -> KeptJudgeRows.deleteOf(c, tracker));
    run("removing bins", c -> Series.deleteBins(c, tracker, fromSecond, toSecond));
  }

  @Override
  public void writeBins(List<Bin> bins) {
    if (bins.isEmpty()) {
      return;
    }
    wrote = true;
    run(
        "writing bins",
        c -> {
          BulkWriter<Bin> writer = new BulkWriter<>(c, BinLayout.INSTANCE);
          if (!writer.copyStraight(bins)) {
            writer.replace(bins);
          }
          return null;
        });
  }

  @Override
  public void writeSoak(Soak soak) {
    writeSoaks(List.of(soak));
  }

  @Override
  public void writeSoaks(Collection<Soak> soaks) {
    if (soaks.isEmpty()) {
      return;
    }
    wrote = true;
    soaks.forEach(changes::written);
    run("writing soaks", c -> Soaks.write(c, soaks));
    soaks.stream()
        .filter(soak -> !soak.open())
        .forEach(soak -> run("removing a judge", c -> KeptJudgeRows.delete(c, soak.id())));
  }

  @Override
  public void writeTerms(String soak, SoakTerms terms) {
    writeTerms(Map.of(soak, terms));
  }

  @Override
  public void writeTerms(Map<String, SoakTerms> terms) {
    if (terms.isEmpty()) {
      return;
    }
    terms.keySet().forEach(changes::soak);
    run("writing soaks' terms", c -> Terms.write(c, terms));
  }

  @Override
  public void adoptTerms(SoakTerms terms) {
    changes.any();
    run("writing soaks' terms", c -> Terms.adopt(c, terms));
  }

  @Override
  public void addLimits(LimitsChange change) {
    wrote = true;
    run("writing limits", c -> LimitsHistory.add(c, change));
  }

  @Override
  public void holdLimits() {
    run("waiting for limits", LimitsHistory::hold);
  }

  @Override
  public void limitsForSoaks() {
    wrote = true;
    run("writing limits", LimitsHistory::holdForSoaks);
  }

  @Override
  public boolean areLimitsForSoaks() {
    return run("reading limits", LimitsHistory::doHoldForSoaks);
  }

  @Override
  public Optional<LimitsChange> newestLimits() {
    return run("reading limits", c -> LimitsHistory.list(c, 1).stream().findFirst());
  }

  @Override
  public void writeSummary(SoakSummary summary) {
    run("writing a soak's figures", c -> DerivedSummaries.write(c, summary));
  }

  @Override
  public List<SoakSummary> summaries(int most) {
    return run(
        "reading soaks' figures", c -> DerivedSummaries.newest(c, most, changedSoaks.summaries));
  }

  @Override
  public Set<String> leftOut() {
    return run("reading which soaks are left out", c -> LeftOut.all(c).keySet());
  }

  @Override
  public Map<String, RackAndLot> racksAndLots() {
    return run("reading the roster", RacksAndLots::all);
  }

  @Override
  public long moves() {
    long moves = run("asking who lies where", RacksAndLots::moves);
    changedSoaks.moved(moves);
    return moves;
  }

  @Override
  public void keepJudge(KeptJudge judge) {
    run("keeping a judge", c -> KeptJudgeRows.put(c, judge));
  }

  @Override
  public Optional<KeptJudge> keptJudge(Soak soak, String program) {
    return run("reading a judge", c -> KeptJudgeRows.find(c, soak, program));
  }

  @Override
  public void deleteSoak(String soak) {
    run("removing a soak", c -> Soaks.delete(c, soak))
        .ifPresent(
            tracker -> {
              changes.tracker(tracker);
              again.add(tracker);
            });
  }

  @Override
  public List<Soak> lastSoaks() {
    return run("reading the last soaks", Soaks::last);
  }

  @Override
  public void appendTimeline(String soak, List<StateChange> changes) {
    appendTimelines(Map.of(soak, changes));
  }

  @Override
  public void appendTimelines(Map<String, List<StateChange>> changes) {
    if (changes.isEmpty()) {
      return;
    }
    wrote = true;
    changes.keySet().forEach(this.changes::soak);
    run("writing timelines", c -> Timelines.append(c, changes));
  }

  @Override
  public void replaceTimeline(String soak, List<StateChange> changes) {
    this.changes.soak(soak);
    again.add(Soak.trackerOf(soak));
    run("removing a judge", c -> KeptJudgeRows.delete(c, soak));
    run("writing a timeline", c -> Timelines.replace(c, soak, changes));
  }

  @Override
  public void markStale(Map<String, StaleRange> seconds) {
    run("noting stale ranges", c -> StaleRanges.put(c, seconds));
  }

  @Override
  public void clearStale(String tracker) {
    run("clearing a stale range", c -> StaleRanges.clear(c, tracker));
  }

  @Override
  public void commit() {
    try {
      run(
          "committing",
          c -> {
            if (wrote || !again.isEmpty()) {
              announcements.announce(c, false, again);
            }
            c.commit();
            return null;
          });
    } finally {
      // Also when the answer got lost: then nobody knows whether it is committed.
      changedSoaks.committed(changes);
    }
  }

  @Override
  public void close() {
    if (closed) {
      return;
    }
    closed = true;
    whenClosed.run();
    try {
      Pools.giveBack(connection);
    } catch (SQLException e) {
      // A lost connection: the server takes back by itself what was not committed.
      LOG.debug("closing a unit of work: {}", DatabaseFaults.detail(e));
    }
  }

  @Override
  <T> T run(String doing, Pools.Work<T> work) {
    if (closed) {
      throw new IllegalStateException("this unit of work is closed; begin another");
    }
    try {
      return work.on(connection);
    } catch (SQLException e) {
      throw DatabaseFaults.of(doing, e);
    }
  }
}
