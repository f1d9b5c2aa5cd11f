package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Service;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.HttpDestination;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/** What an agent sends, in the database of a running service. */
@ExtendWith(Service.Running.class)
class AgentUploadTest {

  private static Destination to(Service service) {
    return new HttpDestination(service.server.url(), () -> null);
  }

  /** Whole samples, halves and held temperatures, as the agent makes them of split lines. */
  private static List<Sample> samples(String tracker, int count) {
    Random random = new Random(tracker.hashCode());
    List<Sample> samples = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      boolean rates = i % 5 != 1;
      boolean temperature = i % 5 != 3;
      float x = rates ? random.nextFloat() * 10 - 5 : Float.NaN;
      samples.add(
          new Sample(
              tracker,
              Service.START_US + i * 20_000L + random.nextInt(1000),
              temperature ? 20 + 10 * random.nextFloat() : Float.NaN,
              temperature && rates && i % 2 == 0,
              x,
              x * 1e-7f,
              x * 300,
              rates && i % 3 == 0 ? random.nextFloat() : Float.NaN,
              rates && i % 3 == 0 ? -random.nextFloat() : Float.NaN,
              rates && i % 3 == 0 ? 1 : Float.NaN,
              i % 4 == 0 ? -1 : (1L << 40) + i,
              i % 7 == 0 ? -1 : 4_294_967_000L + i % 200));
    }
    return samples;
  }

  private static List<Sample> stored(Service service, String tracker) {
    List<Sample> stored = new ArrayList<>();
    service.database.archive().samples(tracker, 0, Long.MAX_VALUE, stored::add);
    return stored;
  }

  @Test
  void everySampleIsStoredAsItWasReadToTheLastBit(Service service) throws Exception {
    List<Sample> sent = samples("U-exact", 3000);
    Destination.Receipt receipt = to(service).send(sent);
    assertThat(receipt.outcome()).isEqualTo(new SampleSink.Outcome(3000, 0, 0));
    assertThat(receipt.refused()).isEmpty();
    assertThat(stored(service, "U-exact")).isEqualTo(sent);
  }

  @Test
  void sentAgainInOtherBatchesEachIsADuplicateAndNoneContradicts(Service service) throws Exception {
    List<Sample> sent = samples("U-again", 500);
    Destination to = to(service);
    to.send(sent);
    Random random = new Random(4);
    int duplicates = 0;
    for (int at = 0; at < sent.size(); ) {
      int end = Math.min(sent.size(), at + 1 + random.nextInt(60));
      SampleSink.Outcome outcome = to.send(sent.subList(at, end)).outcome();
      assertThat(outcome).isEqualTo(new SampleSink.Outcome(0, end - at, 0));
      duplicates += outcome.duplicate();
      at = end;
    }
    assertThat(duplicates).isEqualTo(500);
    assertThat(stored(service, "U-again")).isEqualTo(sent);
  }

  @Test
  void linesThatAreRefusedAreNamedEvenWhereTheyAreMany(Service service) throws Exception {
    List<Sample> sent = new ArrayList<>(samples("U-mixed", 1000));
    long farUs = (Instant.now().getEpochSecond() + 10 * 86_400) * 1_000_000;
    List<Integer> bad = new ArrayList<>();
    for (int i = 100; i < 700; i += 3) {
      sent.set(i, at(sent.get(i), farUs + i));
      bad.add(i);
    }
    Destination.Receipt receipt = to(service).send(sent);
    assertThat(receipt.refused()).extracting(Destination.Refusal::index).isEqualTo(bad);
    assertThat(receipt.refused().get(0).reason())
        .contains("9 days 23 h ahead of this service's clock");
    SampleSink.Outcome outcome = receipt.outcome();
    assertThat(outcome.accepted() + outcome.duplicate()).isEqualTo(1000 - bad.size());
    assertThat(stored(service, "U-mixed")).hasSize(1000 - bad.size());
  }

  private static Sample at(Sample s, long timeUs) {
    return new Sample(
        s.tracker(),
        timeUs,
        s.temperatureC(),
        s.temperatureHeld(),
        s.gxDps(),
        s.gyDps(),
        s.gzDps(),
        s.axG(),
        s.ayG(),
        s.azG(),
        s.seq(),
        s.tMs());
  }
}
