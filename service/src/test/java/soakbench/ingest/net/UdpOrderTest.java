package soakbench.ingest.net;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.TreeSet;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.identity.IngestRules;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;
import soakbench.live.arrival.ArrivalListener;
import soakbench.model.Sample;

/**
 * Trackers behind one host, over a network that loses five of a hundred datagrams, doubles one and
 * lets one in ten be overtaken, whatever ports they come from.
 */
class UdpOrderTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final int TRACKERS = 12;
  private static final int LINES = 1500;

  /** Which port a datagram comes from. */
  private enum Ports {
    OWN_FOR_EACH_TRACKER,
    FRESH_FOR_EACH_DATAGRAM,
    FRESH_FOR_EACH_HUNDRED
  }

  private record Datagram(int tracker, int seq, int port, long atUs) {
    String line() {
      return "{\"id\":\"T-%d\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[%d,0,0]}"
          .formatted(tracker, seq, 5000 + 10 * seq, seq % 360);
    }
  }

  private final List<Sample> samples = new ArrayList<>();

  @ParameterizedTest
  @EnumSource
  void exactlyWhatWasDeliveredIsTakenInTheOrderInWhichItWasSent(Ports ports) {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("UdpOrderTest: -Dsoakbench.test.seed=" + seed);
    List<Datagram> datagrams = datagrams(ports, new Random(seed));
    LineCounters counters = new LineCounters();
    IngestRules rules =
        new IngestRules(StampTolerance.USUAL, () -> 0, false, ArrivalListener.NOBODY, id -> false);
    NetSender host =
        new NetSender(
            "10.0.0.2",
            LineSettings.NONE,
            new IdOwners(id -> Reading.NO_TIME, samples::add, rules),
            counters,
            () -> {},
            true);
    for (Datagram each : datagrams) {
      byte[] bytes = (each.line() + "\n").getBytes(UTF_8);
      host.feed(each.port(), bytes, bytes.length, each.atUs());
      host.release(each.atUs());
    }
    host.stop();
    for (int i = 0; i < TRACKERS; i++) {
      String id = "T-" + i;
      int tracker = i;
      TreeSet<Long> delivered = new TreeSet<>();
      datagrams.stream()
          .filter(d -> d.tracker() == tracker)
          .forEach(d -> delivered.add((long) d.seq()));
      assertThat(samples.stream().filter(s -> s.tracker().equals(id)).map(Sample::seq).toList())
          .as(id + " " + ports)
          .isEqualTo(List.copyOf(delivered));
    }
    assertThat(counters.readings()).isEqualTo(samples.size());
  }

  private static List<Datagram> datagrams(Ports ports, Random random) {
    List<Datagram> all = new ArrayList<>();
    int fresh = 1024;
    for (int seq = 0; seq < LINES; seq++) {
      for (int tracker = 0; tracker < TRACKERS; tracker++) {
        fresh++;
        boolean lost = seq > 10 && random.nextInt(100) < 5;
        int copies = lost ? 0 : random.nextInt(100) < 1 ? 2 : 1;
        int port =
            switch (ports) {
              case OWN_FOR_EACH_TRACKER -> 4000 + tracker;
              case FRESH_FOR_EACH_DATAGRAM -> fresh;
              case FRESH_FOR_EACH_HUNDRED -> 1024 + 100 * tracker + seq / 100;
            };
        for (int copy = 0; copy < copies; copy++) {
          long delayUs = random.nextInt(10) == 0 ? random.nextInt(100_000) : 0;
          all.add(new Datagram(tracker, seq, port, START_US + 10_000L * seq + delayUs));
        }
      }
    }
    all.sort(Comparator.comparingLong(Datagram::atUs));
    return all;
  }
}
