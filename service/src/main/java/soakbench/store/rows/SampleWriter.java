package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import soakbench.live.SoakStore.Written;
import soakbench.model.Sample;

/** Writes samples once and counts duplicates and conflicts. */
public final class SampleWriter {
  private SampleWriter() {}

  public static Written write(Connection connection, List<Sample> samples) throws SQLException {
    if (samples.isEmpty()) {
      return new Written(List.of(), 0, 0);
    }
    Map<Layout.Key, Sample> aside = AsideSamples.among(connection, samples);
    return aside.isEmpty() ? writeAll(connection, samples) : writeBut(connection, samples, aside);
  }

  /** Those that were set aside once stay there; another reading of the same time does not. */
  private static Written writeBut(
      Connection connection, List<Sample> samples, Map<Layout.Key, Sample> aside)
      throws SQLException {
    List<Sample> others =
        samples.stream().filter(s -> !s.equals(aside.get(SampleLayout.INSTANCE.key(s)))).toList();
    Written written =
        others.isEmpty() ? new Written(List.of(), 0, 0) : writeAll(connection, others);
    int known = samples.size() - others.size();
    return new Written(written.fresh(), written.duplicate() + known, written.conflicting());
  }

  private static Written writeAll(Connection connection, List<Sample> samples) throws SQLException {
    BulkWriter<Sample> writer = new BulkWriter<>(connection, SampleLayout.INSTANCE);
    // What is sent again is sent whole: a COPY that clashes is dear, most of all where chunks are
    // compressed, as TimescaleDB unpacks a thousand rows to find that out.
    if (!writer.isStored(samples.get(0)) && writer.copyStraight(samples)) {
      return new Written(List.copyOf(samples), 0, 0);
    }
    Map<Layout.Key, Sample> first = new LinkedHashMap<>();
    samples.forEach(sample -> first.putIfAbsent(SampleLayout.INSTANCE.key(sample), sample));
    Map<Layout.Key, Sample> before =
        writer.writeNew(List.copyOf(first.values()), SampleLayout.INSTANCE::read);
    Map<Layout.Key, Sample> kept = new HashMap<>(first);
    kept.putAll(before);
    return count(samples, kept, new HashSet<>(before.keySet()));
  }

  /**
   * @param kept what is stored now under each key
   * @param seen keys that were stored before; grows with those met in the list
   */
  private static Written count(
      List<Sample> samples, Map<Layout.Key, Sample> kept, Set<Layout.Key> seen) {
    List<Sample> fresh = new ArrayList<>();
    int duplicate = 0;
    int conflicting = 0;
    for (Sample sample : samples) {
      Layout.Key key = SampleLayout.INSTANCE.key(sample);
      if (seen.add(key)) {
        fresh.add(sample);
      } else if (sample.equals(kept.get(key))) {
        duplicate++;
      } else {
        conflicting++;
      }
    }
    return new Written(List.copyOf(fresh), duplicate, conflicting);
  }
}
