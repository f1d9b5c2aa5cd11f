package soakbench.store;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;
import soakbench.store.connection.Pools;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.StaleRanges;
import soakbench.store.rows.Terms;
import soakbench.store.rows.Timelines;

/** The queries that a unit of work and a reader beside it share. */
abstract class PostgresQueries implements SoakStore.Reader {

  /** Runs work on the connection that this reads by. */
  abstract <T> T run(String doing, Pools.Work<T> work);

  @Override
  public final List<Sample> samples(String tracker, long fromUs, long toUs) {
    return run("reading samples", c -> Series.samples(c, tracker, fromUs, toUs));
  }

  @Override
  public final OptionalLong nextSampleUs(String tracker, long fromUs) {
    return run("looking for a sample", c -> Series.nextSampleUs(c, tracker, fromUs));
  }

  @Override
  public final OptionalLong lastSampleUs(String tracker, long toUs) {
    return run("looking for a sample", c -> Series.lastSampleUs(c, tracker, toUs));
  }

  @Override
  public final long countSamples(String tracker, long fromUs, long toUs) {
    return run("counting samples", c -> Series.countSamples(c, tracker, fromUs, toUs));
  }

  @Override
  public final List<Bin> bins(String tracker, long fromSecond, long toSecond) {
    return run("reading bins", c -> Series.bins(c, tracker, fromSecond, toSecond));
  }

  @Override
  public final Optional<SoakTerms> terms(String soak) {
    return run("reading a soak's terms", c -> Terms.find(c, soak));
  }

  @Override
  public final List<Soak> soaks(String tracker, long fromUs) {
    return run("reading soaks", c -> Soaks.ofTracker(c, tracker, fromUs));
  }

  @Override
  public final List<StateChange> timeline(String soak) {
    return run("reading a timeline", c -> Timelines.read(c, soak));
  }

  @Override
  public final Optional<StaleRange> stale(String tracker) {
    return run("reading stale ranges", c -> StaleRanges.find(c, tracker));
  }

  @Override
  public final List<String> staleTrackers() {
    return run("reading stale ranges", StaleRanges::trackers);
  }
}
