package soakbench.ingest.sending;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.ingest.sending.SeveralServices.Named;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

class SeveralServicesTest {
  private long nowNs;

  /** A service that writes for some trackers, or is away. */
  private static final class Fake implements Destination {
    private final Set<String> own = new TreeSet<>();
    private final List<String> calls = new ArrayList<>();
    private boolean away;

    Fake(String... trackers) {
      own.addAll(List.of(trackers));
    }

    @Override
    public Receipt send(List<Sample> samples) {
      return take("new", samples);
    }

    @Override
    public Receipt sendAgain(List<Sample> samples) {
      return take("again", samples);
    }

    private Receipt take(String how, List<Sample> samples) {
      calls.add(how + " " + samples.stream().map(Sample::tracker).toList());
      if (away) {
        throw new StoreException("no answer", null, true);
      }
      List<Refusal> refused = new ArrayList<>();
      for (int i = 0; i < samples.size(); i++) {
        String tracker = samples.get(i).tracker();
        if (!own.contains(tracker)) {
          refused.add(new Refusal(i, tracker + " is another's", true));
        }
      }
      int taken = samples.size() - refused.size();
      return new Receipt(new SampleSink.Outcome(taken, 0, 0), refused);
    }
  }

  private SeveralServices of(Fake... fakes) {
    List<Named> named = new ArrayList<>();
    for (Fake fake : fakes) {
      named.add(new Named("service " + named.size(), fake));
    }
    return new SeveralServices(named, () -> nowNs);
  }

  private static List<Sample> batch(String... trackers) {
    List<Sample> samples = new ArrayList<>();
    for (String tracker : trackers) {
      long timeUs = samples.size() + 1;
      samples.add(new Sample(tracker, timeUs, 25, false, 0, 0, 0, 0, 0, 1, -1, -1));
    }
    return samples;
  }

  @Test
  void whatAServiceLeavesToAnotherGoesThereAtOnceAndFromThenOnDirectly() throws Exception {
    Fake first = new Fake("A-1");
    Fake second = new Fake("C-1");
    SeveralServices services = of(first, second);
    Destination.Receipt receipt = services.send(batch("A-1", "C-1", "A-1"));
    assertThat(receipt.outcome()).isEqualTo(new SampleSink.Outcome(3, 0, 0));
    assertThat(receipt.refused()).isEmpty();
    services.send(batch("A-1", "C-1"));
    assertThat(first.calls).containsExactly("new [A-1, C-1, A-1]", "new [A-1]");
    assertThat(second.calls).containsExactly("new [C-1]", "new [C-1]");
  }

  @Test
  void afterAFailureItStaysWithTheOtherThoughTheFirstIsBack() throws Exception {
    Fake first = new Fake("A-1", "A-2");
    Fake second = new Fake("A-1", "A-2");
    SeveralServices services = of(first, second);
    services.send(batch("A-1"));
    first.away = true;
    services.send(batch("A-1"));
    first.away = false;
    services.send(batch("A-1", "A-2"));
    assertThat(first.calls).containsExactly("new [A-1]", "new [A-1]");
    // The first may have stored what it did not acknowledge.
    assertThat(second.calls).containsExactly("again [A-1]", "new [A-1, A-2]");
  }

  @Test
  void whileAServiceIsAwayNothingIsSetAside() {
    Fake first = new Fake("A-1");
    Fake second = new Fake("C-1");
    second.away = true;
    SeveralServices services = of(first, second);
    for (int minute = 0; minute < 10; minute++) {
      nowNs += TimeUnit.MINUTES.toNanos(1);
      assertThatThrownBy(() -> services.send(batch("A-1", "C-1")))
          .isInstanceOfSatisfying(
              StoreException.class, e -> assertThat(e.transientFault()).isTrue())
          .hasMessage("no answer");
    }
  }

  @Test
  void whatEveryServiceLeavesToOthersIsSetAsideAfterAMinuteAndTheRestGoesOn() throws Exception {
    SeveralServices services = of(new Fake("A-1"), new Fake("C-1"));
    assertThatThrownBy(() -> services.send(batch("A-1", "N-1"))).hasMessage("N-1 is another's");
    nowNs += TimeUnit.SECONDS.toNanos(59);
    assertThatThrownBy(() -> services.send(batch("A-1", "N-1"))).hasMessageContaining("N-1");
    nowNs += TimeUnit.SECONDS.toNanos(1);
    assertThat(services.sendAgain(batch("A-1", "N-1")).refused())
        .containsExactly(new Destination.Refusal(1, "N-1 is another's", true));
  }
}
