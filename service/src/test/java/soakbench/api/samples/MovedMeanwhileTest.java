package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.access.OtherRacks;
import soakbench.ingest.sending.Destination;
import soakbench.live.SampleSink;
import soakbench.live.arrival.ArrivalListener;
import soakbench.model.RackSet;
import soakbench.model.Sample;

/** A tracker that is moved to the racks of a service while lines of it come in. */
class MovedMeanwhileTest {
  private static final int LINES = 10;

  private final List<Sample> stored = new ArrayList<>();
  private final AtomicInteger asked = new AtomicInteger();

  /** It is this service's from the second question on. */
  private final Predicate<String> own = tracker -> asked.incrementAndGet() > 2;

  private final SampleSink sink =
      samples -> {
        stored.addAll(samples);
        return new SampleSink.Outcome(samples.size(), 0, 0);
      };

  private final OtherRacks racks =
      new OtherRacks(
          own,
          tracker -> "C",
          rack -> Optional.empty(),
          RackSet.of(List.of("A")),
          (tracker, rack) -> false);

  private UploadResult.Answer posted() {
    KnownTrackers known = new KnownTrackers(List::of);
    known.read();
    UploadContext context =
        new UploadContext(
            new UploadScheduler(sink),
            ArrivalListener.NOBODY,
            racks,
            new NewTrackerQuota(UploadLimits.DEFAULT, known, id -> false, () -> 0),
            new BootClocks(),
            () -> Service.START_US,
            System::currentTimeMillis,
            Duration.ofMinutes(1),
            (tracker, timeUs) -> null);
    SampleUpload upload = new SampleUpload(context, "192.0.2.7", "");
    Lines.steady("A-1", Service.START_US, LINES)
        .lines()
        .map(line -> line.getBytes(StandardCharsets.UTF_8))
        .forEach(line -> upload.line(line, 0, line.length));
    known.close();
    return upload.end();
  }

  /** Else its soak would begin in the middle of a request, and anew when the rest is sent again. */
  @Test
  void ofOneRequestItsLinesAreAllTakenOrNone() {
    UploadResult.Answer first = posted();
    assertThat(first.rejected()).isEqualTo(LINES);
    assertThat(first.problems()).allMatch(UploadResult.LineProblem::elsewhere);
    assertThat(stored).isEmpty();
    assertThat(posted().accepted()).isEqualTo(LINES);
    assertThat(stored).hasSize(LINES);
  }

  @Test
  void ofOneBatchOfPortsTheyAreToo() throws Exception {
    posted();
    posted();
    List<Sample> batch = List.copyOf(stored);
    stored.clear();
    asked.set(0);
    Destination ports =
        Destination.of(sink, s -> null, () -> racks.request("", id -> false)::refusal);
    assertThat(ports.send(batch).refused()).hasSize(LINES);
    assertThat(stored).isEmpty();
    assertThat(ports.send(batch).refused()).isEmpty();
    assertThat(stored).hasSize(LINES);
  }
}
